# Die Arbeitsanweisung: Kopf, Kennzahlen, Listen, Prüfungen und wie die Schritte gezählt wurden.
title = { $target } – { $device }: Ausbau und Zusammenbau
invented = Erfundenes Gerät: eine Vorführung, kein wirkliches Produkt
from-record = Aus der Akte { $digest } mit { $program }.
from-record-dated = Aus der Akte { $digest } mit { $program }, { $date }.
running-work = Ausbau und Zusammenbau
running-invented = erfundenes Gerät
running-record = Akte { $digest }
running-page = Seite
running-of = von

tools-missing = Werkzeuge, die im Werkzeugkasten fehlen
toolbox-complete = Der Werkzeugkasten enthält jedes Werkzeug, das diese Arbeit braucht.

time-in = Zeit für den Ausbau
in-minutes = { $minutes } min
time-range = Summe der Mediane; in 9 von 10 Fällen zwischen { $low } und { $high } min
steps-counted = Schritte nach EU-Zählung
steps-of-regulation = Schritte nach der Verordnung
in-moves =
    { $count ->
        [one] in { $count } Handgriff
       *[other] in { $count } Handgriffen
    }
tools = Werkzeuge
consumables-counted =
    { $count ->
        [one] { $count } Verbrauchs{ "\u00AD" }material
       *[other] { $count } Verbrauchs{ "\u00AD" }material
    }
screws-out = Schrauben heraus
cost = Erwartete Kosten
cost-basis = Arbeit für den Ausbau zu { $labour } { $currency } je Stunde (Vorgabewert), Neuteile, Bruch; das Zielteil selbst nicht enthalten{ cost-unpriced }
cost-basis-line = Arbeit für den Ausbau zu { $labour } { $currency } je Stunde, ein Vorgabewert; Neuteile, Bruch; das Zielteil selbst nicht enthalten{ cost-unpriced }
cost-unpriced =
    { $unpriced ->
        [0] { "" }
        [one] ; ohne { $unpriced } Posten mit unbekanntem Preis
       *[other] ; ohne { $unpriced } Posten mit unbekanntem Preis
    }
rests-on = Beruht auf
proof =
    { $proven ->
        [yes] bewiesen
       *[no] nicht bewiesen
    }
proof-means =
    { $proven ->
        [yes] kein Weg braucht weniger
       *[no] es kann einen Weg mit weniger geben
    }
proof-basis = { proof-means }: { $least }; { proof-assumed }; { proof-default }
proof-assumed =
    { $assumed ->
        [one] { $assumed } angenommene Bedingung
       *[other] { $assumed } angenommene Bedingungen
    }
proof-default =
    { $default ->
        [one] { $default } Handgriff mit Vorgabezeiten
       *[other] { $default } Handgriffe mit Vorgabezeiten
    }
proof-line = { proof }, { proof-means }: { $least }
basis-line = Angenommene Bedingungen: { $assumed }; Handgriffe mit Vorgabezeiten: { $default }

overview-caption = Der Ausbau: was zuerst abgenommen wird, liegt am höchsten. { $depth } Schraffiert: { $target }. Gestrichelt: neben dem Schnitt. Gepunktet: schon abgenommen.
depth-stretched = Die Tiefe ist { $times }-mal so groß gezeichnet wie die Länge.
depth-order = Nur die Reihenfolge ist gezeichnet; die Akte nennt keine Tiefen.
marks = Zeichen der Verbindungen
tools-in-order = Werkzeuge in der Reihenfolge der Benutzung
bare-hands = bloße Hände
consumables = Verbrauchsmaterial
consumables-none = Für den Ausbau keines.
standby = Bereitzuhalten, falls eine Verbindung nicht nachgibt: { $things }.
cautions = Warnhinweise

renewals = Neuteile für den Zusammenbau
renewals-table = Neuteile
renewal-item = Teil
renewal-for = Wofür
renewal-amount = Menge
renewal-price = Preis, { $currency }
not-known = nicht bekannt
renewals-none = Nichts außer dem Zielteil: { $target }.

before = Vor Beginn
before-device = Daten sichern, ausschalten, abstecken, zugängliche Karten entnehmen.
before-battery = Den Akku auf 30 % oder weniger entladen. Aufgebläht, heiß oder riechend: abbrechen, siehe Warnhinweise.

way-in = Ausbau
way-in-explained = Die Handgriffe sind durchgezählt. Eine Überschrift nennt die Schritte der Verordnung, die mit den Handgriffen darunter enden, und womit jeder endet.
group-steps =
    { $count ->
        [one] Schritt { $first }
       *[other] Schritte { $first } bis { $last }
    }
group-last = Letzte Öffnungen
group-no-step = kein weiterer Schritt

untouched = Was unberührt bleibt
untouched-none = Nichts
untouched-joints =
    { $count ->
        [one] { $count } Verbindung bleibt geschlossen.
       *[other] { $count } Verbindungen bleiben geschlossen.
    }

checks = Prüfungen am Ende
duty =
    { $duty ->
        [authorisation] Das Neuteil muss aus der Ferne freigegeben werden: den Zugang bereithalten.
       *[notification] Das Gerät meldet, dass das Teil nicht gekoppelt ist: mit einer Meldung ist zu rechnen.
    }
checks-end =
    { $screws ->
        [0] Kein Werkzeug und kein Abschirmblech übrig. Verbrauchte Zellen und Lösemittel der richtigen Sammlung zuführen.
        [one] Die eine Schraube zurückgezählt, kein Werkzeug und kein Abschirmblech übrig. Verbrauchte Zellen und Lösemittel der richtigen Sammlung zuführen.
       *[other] Alle { $screws } Schrauben zurückgezählt, kein Werkzeug und kein Abschirmblech übrig. Verbrauchte Zellen und Lösemittel der richtigen Sammlung zuführen.
    }

counting = Wie die Schritte gezählt wurden
counting-finding = Ein Befund nach den Lesarten unten, keine Rechtsberatung.
counting-table = Gezählte Schritte
counting-step = Schritt
counting-ends = Endet mit
counting-move = Handgriff
readings-used = Verwendete Lesarten
sources-used = Verwendete Quellen
whole-record = Zeiten, Preise und Risiken stammen aus der Akte; wo sie schweigt, aus den Vorgabewerten der Werkbank (übliche Praxis). Ganze Akte: { $digest }
