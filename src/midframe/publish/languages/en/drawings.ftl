# The section through the stack and the plan, and what they say to those who do not see them.
section-name = Section through { $device }
section-up =
    { $face ->
        [front] front face up
       *[back] back face up
    }
section-told =
    { $face ->
        [front] { $device } cut lengthwise, front side up.
       *[back] { $device } cut lengthwise, back side up.
    }
section-raised = Raised: { $parts }.
section-marked = Marked: { $joints }.
section-hatched = Hatched: { $part }.
section-group = { $part } and { $more } more
section-edge = { $part }, out at the edge
plan-name = Screw spots
plan-seen =
    { $face ->
        [front] seen from the front, top of the device on the left
       *[back] seen from the back, top of the device on the left
    }
plan-told =
    { $count ->
        [one] { $count } screw spot on the plan of { $device }, { $seen }.
       *[other] { $count } screw spots on the plan of { $device }, { $seen }.
    }
