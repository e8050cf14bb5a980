# Ein Handgriff des Ausbaus und eine Zeile des Zusammenbaus.
work-with = { $does } mit { $tools }
work-by-hand = { $does } von Hand
clock =
    { $clock ->
        [heat] { $time } erwärmen
       *[wait] { $time } warten
    }
risk = Fehlschlag in { $share } der Fälle
risk-harms = Schaden an { $parts } in { $share } der Fälle
why-target = Nötig für den Ausbau selbst: { $target }
why-later = Nötig für { $moves }
why-both = Nötig für { $moves } und für den Ausbau selbst: { $target }
why-precaution = Vorsichtsmaßnahme
move-lift = abnehmen
holds-between = mit
turn =
    { $face ->
        [edge] Gerät drehen: an der Kante arbeiten.
        [front] Gerät drehen: Vorderseite nach oben.
       *[back] Gerät drehen: Rückseite nach oben.
    }
caution-of-move = Warnhinweise
live-in = Akku noch angeschlossen: Gerät aus, kein Metall an die Kontakte
drive-unknown = Antrieb unbekannt
screw-length = { $length } mm lang
screw-head = { $head }
screws-out-after = Schrauben heraus: { $after } von { $all }
screws-mixed = Getrennt ablegen: dieselbe Schraube kommt auf diesem Weg auch { $lengths } mm lang vor.
along = Kommt mit: { $parts }.
hanging = Hängt noch an { $joints }: in Reichweite ablegen, nicht ziehen.
ruins = Zerstört { $parts }: neu für den Zusammenbau.
otherwise = Falls die Verbindung nicht nachgibt:
reach-assumed = Die Zugänglichkeit ist angenommen, nicht bestätigt.
in-all = Insgesamt { $time }
in-all-default = Insgesamt { $time } (Vorgabezeit)

refit = Zusammenbau
refit-explained = Der Rückweg: die Umkehrung des Ausbaus. Jede Verbindung wird einmal geschlossen, Stecker bevor sie verdeckt sind. Die Passung prüfen, bevor eine Klebung angedrückt wird.
new-part = Neuteil
new-parts = neu: { $parts }
new-items = Neu: { $items }
new-adhesive = aufgebracht, bevor das Teil eingesetzt wird
torque = { $torque } N·m
torque-unknown = Drehmoment nicht bekannt: handfest
screws-still-out = Schrauben noch draußen: { $out } von { $all }
live-back = Akku angeschlossen: Gerät aus, kein Metall an die Kontakte
undoes = macht { $move } rückgängig
