# Words for the values of enumerations, the same everywhere.
kind =
    { $kind ->
        [screw] screw
        [connector] connector
        [clip] clip
        [adhesive] adhesive
        [solder] solder
       *[other] other
    }
closing =
    { $kind ->
        [screw] drive in
        [connector] plug in
        [clip] clip in
        [adhesive] bond
        [solder] solder
        [other] close
       *[none] place
    }
least =
    { $cost ->
        [steps] steps
        [seconds] seconds
        [money] money
       *[risk] risk
    }
least-together = { $one } with { $other }
least-then = { $one }, then { $other }
kept-to = { $least }, { $condition }
