# One move of the way in, and one line of the way back.
work-with = { $does } with { $tools }
work-by-hand = { $does } by hand
clock =
    { $clock ->
        [heat] heat { $time }
       *[wait] wait { $time }
    }
risk = Goes wrong in { $share } of cases
risk-harms = Harms { $parts } in { $share } of cases
why-target = The { $target } would not be out without it
why-later = Needed for { $moves }
why-both = Needed for { $moves }, and for the { $target } to be out
why-precaution = Done as a precaution
move-lift = lift
holds-between = to
turn =
    { $face ->
        [edge] Turn the device: work at the edge.
        [front] Turn the device: front face up.
       *[back] Turn the device: back face up.
    }
caution-of-move = Caution
live-in = The battery is still connected: device off, no metal on the contacts
drive-unknown = unknown drive
screw-length = { $length } mm long
screw-head = { $head } head
screws-out-after = Screws out: { $after } of { $all }
screws-mixed = Keep apart: the same screw also comes { $lengths } mm long on this way.
along = Comes along: { $parts }.
hanging = Still hangs on { $joints }: lay it down within reach, do not pull.
ruins = Ruins { $parts }: new for the refit.
otherwise = If it does not give way:
reach-assumed = Its reach is assumed, not confirmed.
in-all = In all { $time }
in-all-default = In all { $time } (default time)

refit = Refit
refit-explained = The way back: the reverse of the way in. Each joint is closed once, plugs before they are covered. Test the fit before any bond is pressed on.
new-part = new part
new-parts = new: { $parts }
new-items = New: { $items }
new-adhesive = laid on before the part is placed
torque = { $torque } N·m
torque-unknown = torque not known: hand-tight
screws-still-out = Screws still out: { $out } of { $all }
live-back = The battery is connected: device off, no metal on the contacts
undoes = undoes { $move }
