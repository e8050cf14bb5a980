# Zahlen, Zeiten, Nummern von Handgriffen.
language-name = Deutsch
percent = { $figure } %
time-unknown = Zeit unbekannt
time-seconds = { $seconds } s
time-minutes = { $minutes } min
time-minutes-seconds = { $minutes } min { $seconds } s
from-to = { $first } bis { $last }
moves =
    { $count ->
        [one] Handgriff { $numbers }
       *[other] Handgriffe { $numbers }
    }
driver-for = Schraubendreher { $drive }
