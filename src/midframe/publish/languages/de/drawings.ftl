# Der Schnitt durch den Aufbau und der Grundriss, und was sie denen sagen, die sie nicht sehen.
section-name = Schnitt durch { $device }
section-up =
    { $face ->
        [front] Vorderseite oben
       *[back] Rückseite oben
    }
section-told =
    { $face ->
        [front] { $device } der Länge nach geschnitten, Vorderseite oben.
       *[back] { $device } der Länge nach geschnitten, Rückseite oben.
    }
section-raised = Angehoben: { $parts }.
section-marked = Markiert: { $joints }.
section-hatched = Schraffiert: { $part }.
section-group = { $part } und { $more } weitere
section-edge = { $part }, zur Seite heraus
plan-name = Schraubstellen
plan-seen =
    { $face ->
        [front] von vorn gesehen, Oberkante des Geräts links
       *[back] von hinten gesehen, Oberkante des Geräts links
    }
plan-told =
    { $count ->
        [one] { $count } Schraubstelle im Grundriss von { $device }, { $seen }.
       *[other] { $count } Schraubstellen im Grundriss von { $device }, { $seen }.
    }
