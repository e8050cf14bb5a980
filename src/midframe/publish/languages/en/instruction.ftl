# The work instruction: head, figures, lists, checks and how the steps were counted.
title = { $target } of { $device } – way in and refit
invented = Invented device: a demonstration, not a real product
from-record = From record { $digest } with { $program }.
from-record-dated = From record { $digest } with { $program }, { $date }.
running-work = way in and refit
running-invented = invented device
running-record = record { $digest }
running-page = page
running-of = of

tools-missing = Tools missing from the toolbox
toolbox-complete = The toolbox holds every tool that this work needs.

time-in = Time for the way in
in-minutes = { $minutes } min
time-range = sum of medians; 9 times in 10 between { $low } and { $high } min
steps-counted = Steps, EU count
steps-of-regulation = Steps of the regulation
in-moves =
    { $count ->
        [one] in { $count } move
       *[other] in { $count } moves
    }
tools = Tools
consumables-counted =
    { $count ->
        [one] { $count } consumable
       *[other] { $count } consumables
    }
screws-out = Screws out
cost = Expected cost
cost-basis = labour on the way in at { $labour } { $currency } an hour (default), renewals, breakage; target part not included{ cost-unpriced }
cost-basis-line = labour on the way in at { $labour } { $currency } an hour, a default; renewals, breakage; target part not included{ cost-unpriced }
cost-unpriced =
    { $unpriced ->
        [0] { "" }
        [one] ; without { $unpriced } item of unknown price
       *[other] ; without { $unpriced } items of unknown price
    }
rests-on = Rests on
proof =
    { $proven ->
        [yes] proven
       *[no] not proven
    }
proof-means =
    { $proven ->
        [yes] no way takes less
       *[no] there may be a way of less
    }
proof-basis = { proof-means }: { $least }; { proof-assumed }; { proof-default }
proof-assumed =
    { $assumed ->
        [one] { $assumed } assumed condition
       *[other] { $assumed } assumed conditions
    }
proof-default =
    { $default ->
        [one] { $default } move with default times
       *[other] { $default } moves with default times
    }
proof-line = { proof }, { proof-means }: { $least }
basis-line = Assumed conditions: { $assumed }; moves with default times: { $default }

overview-caption = The way in: what leaves first rises highest. { $depth } Hatched: { $target }. Dashed: beside the cut. Dotted: has left.
depth-stretched = Depth is drawn { $times } times larger than length.
depth-order = Only the order is drawn; the record gives no depths.
marks = Marks of the joints
tools-in-order = Tools, in the order of use
bare-hands = bare hands
consumables = Consumables
consumables-none = None on the way in.
standby = Kept ready, should a joint not give way: { $things }.
cautions = Cautions

renewals = New for the refit
renewals-table = Renewals
renewal-item = Item
renewal-for = For
renewal-amount = Amount
renewal-price = Price, { $currency }
not-known = not known
renewals-none = Nothing but the { $target }.

before = Before you start
before-device = Back up the data, switch off, unplug, take cards out where they can be reached.
before-battery = Discharge the battery to 30 % or less. Swollen, hot or smelling: stop, see the cautions.

way-in = Way in
way-in-explained = Moves are numbered through. A heading names the steps of the regulation that end in the moves below it, and with what each ends.
group-steps =
    { $count ->
        [one] Step { $first }
       *[other] Steps { $first } to { $last }
    }
group-last = Last openings
group-no-step = no further step

untouched = What stays untouched
untouched-none = Nothing
untouched-joints =
    { $count ->
        [one] { $count } joint stays closed.
       *[other] { $count } joints stay closed.
    }

checks = Checks at the end
duty =
    { $duty ->
        [authorisation] The new part needs authorisation from afar: have the access ready.
       *[notification] The device reports that the part is not paired: a notification is expected.
    }
checks-end =
    { $screws ->
        [0] No tool and no shield left over. Spent cells and solvents go to the proper collection.
        [one] All { $screws } screw counted back, no tool and no shield left over. Spent cells and solvents go to the proper collection.
       *[other] All { $screws } screws counted back, no tool and no shield left over. Spent cells and solvents go to the proper collection.
    }

counting = How the steps were counted
counting-finding = A finding under the readings below, not legal advice.
counting-table = Counted steps
counting-step = Step
counting-ends = Ends with
counting-move = Move
readings-used = Readings used
sources-used = Sources used
whole-record = Times, prices and risks come from the record; where it is silent, from the bench's defaults (common practice). Whole record: { $digest }
