# The sentences of the pause sheet: what was done last, what to do on leaving, what to look at on return.
pause-nothing-opened = nothing opened
pause-opened = opened { $joint }
pause-lifted = lifted { $parts }
pause-leave-hot = Switch everything hot off; let the device and the tools cool, let all solvent evaporate.
pause-leave-connected = The battery is connected: switch the device off, cover open contacts against metal.
pause-leave-hanging = Support what hangs on its cable, without pull or kink: { $joints }.
pause-leave-cell = The cell lies out: contacts covered, nothing on it, away from heat and what burns.
pause-leave-adhesive = Cover open adhesive faces against dust; liners stay on until the part goes on.
pause-leave-boards = Boards lie in dissipative bags or trays; a lid on every tray, its number on it.
pause-return-cell = Look at the cell first: swollen, warm or smelling means stop.
pause-screws =
    { $screws ->
        [one] { $screws } screw
       *[other] { $screws } screws
    }
pause-return-trays =
    { $trays ->
        [one] The tray is there, and { pause-screws } in it.
       *[other] All { $trays } trays are there, and { pause-screws } in them.
    }
pause-return-kinds =
    { $trays ->
        [one] The tray is there, and { pause-screws } in it: { $kinds }.
       *[other] All { $trays } trays are there, and { pause-screws } in them: { $kinds }.
    }
pause-of-kind = { $count } of { $letter }
pause-return-hanging = These still hang on the device and must not be pulled: { $joints }.
pause-return-arrived = Arrived and the right one: { $item }.
pause-return-arrived-noted = Arrived and the right one: { $item } ({ $note }).
pause-return-adhesive = Open adhesive faces are clean and free of dust; old liners have not been touched.
