# Figures, times, numbers of moves.
language-name = English
percent = { $figure } %
time-unknown = time unknown
time-seconds = { $seconds } s
time-minutes = { $minutes } min
time-minutes-seconds = { $minutes } min { $seconds } s
from-to = { $first } to { $last }
moves =
    { $count ->
        [one] move { $numbers }
       *[other] moves { $numbers }
    }
driver-for = { $drive } driver
