# The screw sheet at true scale, its list, and the labels of trays.
screw-sheet = Screw sheet, { $device }
screw-sheet-page = Screw sheet of { $device }, page { $page }
screw-list-page = Screws of { $device }, list
screw-labels-page = Tray labels of { $device }
screw-seen =
    { $side ->
        [front] { $device }: screws, seen from the front
       *[back] { $device }: screws, seen from the back
    }
screw-mirrored =
    { $side ->
        [front] { $device }: screws of the front, mirrored
       *[back] { $device }: screws of the back, mirrored
    }
screw-explained = Top of the device up, true scale. Beside each hole: order out · kind, length in mm.
screw-invented = Invented device.
screw-tiles = Page { $page } of { $pages } of the plan: lay the crosses on each other.
screw-list = List.
screw-kinds = Kinds
screw-order = Order out
screw-stays = stays in
screw-without-place = { $count } without a place in the record
screw-together = Together on this side: { $count }
screw-none-drawn =
    { $count ->
        [one] { $count } of them has no place: it is not drawn
       *[other] { $count } of them have no place: none is drawn
    }
screw-other-side =
    { $count ->
        [one] { $count } more is worked from the other side
       *[other] { $count } more are worked from the other side
    }
screw-code-opens = The code opens { $link }
screw-no-code = No code: no address of the record was given.
tray = Tray { $number }
bag = Bag
bag-trays =
    { $count ->
        [one] { $count } tray
       *[other] { $count } trays
    }
bag-screws =
    { $count ->
        [one] { $count } screw
       *[other] { $count } screws
    }
bag-opened = opened
bag-closed = closed
tray-more-screws =
    { $count ->
        [one] and { $count } screw more: see the list
       *[other] and { $count } screws more: see the list
    }
tray-more-parts =
    { $count ->
        [one] and { $count } part more
       *[other] and { $count } parts more
    }
tray-parts =
    { $count ->
        [one] { $count } part
       *[other] { $count } parts
    }
screw-unknown = screw of unknown kind
scale-check = Measure before use: this bar is { $bar } mm long, the upright one { $upright } mm. If not, print at 100 %, not fitted to the page.
