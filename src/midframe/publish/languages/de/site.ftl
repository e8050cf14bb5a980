# Ein ganzes Gerät veröffentlicht: Übersicht, Schrauben, Zusammenbau, Index, Listen, Kapitel, Fotos.
site-overview = Übersicht
site-pages = Seiten
site-instructions = Andere Anleitungen
site-before = Davor:
site-after = Danach:
site-provenance = Aus der Akte { $record } mit { $program }{ $dated }.
site-local-rules = Örtliche Vorschriften und die Regeln zugelassener Betriebe gehen allem hier vor. Warnhinweise stehen in jeder Anleitung und bei den Handgriffen, die sie betreffen.
site-device =
    { $kind ->
        [tablet] Tablet
       *[phone] Telefon
    }
site-foldable = { $kind }, faltbar
site-kind = Art
site-size = Größe
site-size-order = Höhe, Breite, Dicke
site-mass = Masse
site-ingress = Schutzart
site-parts-joints = Besteht aus
site-of-parts =
    { $joints ->
        [one] { $parts } Teile, { $joints } Verbindung
       *[other] { $parts } Teile, { $joints } Verbindungen
    }
site-of-screws =
    { $screws ->
        [one] { $screws } Schraube
       *[other] { $screws } Schrauben, { $kinds ->
            [one] { $kinds } Sorte
           *[other] { $kinds } Sorten
        }
    }
site-index-eu = EU-Reparierbarkeitsindex
site-not-legal-advice = Ein Befund aus den gegebenen Daten, keine Rechtsberatung.
site-class-none = keine
site-index-value = { $index } von 5, Klasse { $letter }
site-index-range = { $low } bis { $high } von 5, fehlende Werte: { $missing }
site-index-undefined = keine Punktzahl festgelegt

site-ways = Ausbau der Teile
site-ways-note = Schritte wie in der Verordnung gezählt. Die Zeit ist die Summe der Mediane, dazu der Bereich in neun von zehn Fällen. Kosten sind Arbeit, Neuteile und erwarteter Bruch, ohne das Teil selbst.
site-priority-only =
    { $count ->
        [one] Nur das Teil, nach dem der Index fragt: { $count }.
       *[other] Nur die Teile, nach denen der Index fragt: { $count }.
    }
site-minutes-range = { $minutes } min ({ $low } bis { $high })
site-no-way = kein Ausbau möglich: { $reason }
site-assumed-moves =
    { $count ->
        [one] { $count } Handgriff angenommen
       *[other] { $count } Handgriffe angenommen
    }
site-default-times = überwiegend Vorgabezeiten

site-head =
    { $of ->
        [part] Teil
        [steps] Schritte
        [time] Zeit
        [moves] Handgriffe
        [cost] Kosten
        [tools] Werkzeug
        [rests] Beruht auf
        [kind] Sorte
        [screw] Schraube
        [count] Anzahl
        [cover] Abdeckung
        [torque] Drehmoment
        [score] Teilwert
        [points] Punkte
        [weight] Gewicht
        [clause] Fundstelle
        [depth] Tiefe
        [fasteners] Verbindungselemente
        [decides] Was entscheidet
        [role] Rolle
        [mass] Masse
        [spare] Ersatzteil
        [price] Preis
        [tool] Werkzeug
        [group] Gruppe
        [for] Für den Ausbau von
        [item] Gegenstand
        [joint] Wofür
        [amount] Menge
        [begins] Beginn
        [ends] Ende
       *[chapter] Kapitel
    }

site-contents = Was hier liegt
site-about-screws = nach Sorte und Abdeckung, Drehmoment, was im falschen Loch geschieht
site-about-screw-sheet = jedes Loch an seinem Platz, maßstäblich; mit 100 % und ohne Ränder drucken
site-about-refit = das ganze Gerät wieder zusammengesetzt
site-about-index = jede Zahl mit ihrer Fundstelle, Zeile für Zeile
site-about-lists = Teile, Werkzeug, Verbrauchsmaterial, Neuteile; auch als CSV
site-about-chapters = wann jeder Handgriff des Protokolls beginnt, für eine Aufnahme davon
site-about-photos =
    { $count ->
        [one] { $count } Foto
       *[other] { $count } Fotos
    }
site-about-markdown = dieselben Seiten als Text
site-about-record = woraus dies alles berechnet ist
site-markdown = Markdown
site-record = Die Akte

site-screws = Schrauben
site-tally =
    { $screws ->
        [one] { $screws } Schraube.
       *[other] { $screws } Schrauben, { $kinds ->
            [one] { $kinds } Sorte
           *[other] { $kinds } Sorten
        }, in { $groups ->
            [one] { $groups } Gruppe
           *[other] { $groups } Gruppen
        }.
    }
site-by-kind = Nach Sorte
site-by-cover = Nach Abdeckung
site-torque-record = { $torque } (Akte)
site-torque-series = { $torque } (Reihe { $series } [{ $source }])
site-wrong-hole = Falsches Loch
site-wrong-cases =
    { $grave ->
        [yes] Was darunter etwas beschädigt oder klemmt: { $count }.
       *[no] Milder: zu kurz, anderes Gewinde oder länger innerhalb der Lochtiefe: { $count }.
    }
site-wrong = { $screw } in { $hole } (richtig: { $own }): { $harm }.
site-wrong-none = Keine Schraubensorte passt in das Loch einer anderen, soweit die Akte es sagt.
site-harm =
    { $effect ->
        [pierces] { $beyond } mm über das Loch hinaus: erreicht { $parts }
        [may-pierce] { $beyond } mm über das Loch hinaus; { $parts } liegt an dieser Stelle, Tiefe unbekannt
        [may-pierce-longer] { $longer } mm länger als die richtige Schraube; { $parts } liegt an dieser Stelle
        [bottoms] { $beyond } mm länger, als das Loch tief ist: klemmt oder bricht durch
        [longer] { $longer } mm länger als die richtige Schraube; die Tiefe des Lochs ist unbekannt
        [goes-in] { $longer } mm länger als die richtige Schraube, innerhalb der Lochtiefe
        [short] { $longer } mm kürzer als die richtige Schraube
       *[askew] anderes Gewinde: greift schief, hält wenig, verdirbt das Gewinde
    }
site-harm-turns = { $lost } Gänge weniger
site-harm-hold = { $hold } von { $all } halten
site-harm-weak = weniger als ein Durchmesser
site-harm-proud = Der Kopf steht vor.
site-reached-below = { $name }, { $gap } mm darunter
site-screw-sheet = Schraubenblatt, maßstäblich
site-screw-sheet-note = Der Umriss mit jedem Loch an seinem Platz, Sorte und Reihenfolge; die Schrauben werden darauf abgelegt. Der Balken am Fuß zeigt, ob der Drucker den Maßstab gehalten hat.
site-screw-page = Blatt { $number } als Zeichnung

site-refit = Zusammenbau
site-refit-note = Das ganz zerlegte Gerät wird wieder zusammengesetzt: Handgriffe { $moves }, Schrauben { $screws }. Jede Anleitung hat den Zusammenbau von ihrem Teil aus.
site-trial = Probe: Gerät einschalten und die Prüfungen durchgehen, bevor es geschlossen wird; wieder ausschalten.
site-untried = Noch nicht verbunden, daher nicht erprobt: { $names }.
site-look-at = Vor dem Abdecken ansehen, ob dies fest sitzt: { $names }.
site-new-part = Neues Teil: { $names }.
site-new-item = Neu: { $item }{ $amount }.
site-layer =
    { $kind ->
        [pad] Wärmeleitpad für einen Spalt von { $thickness } mm: ein dünneres berührt nicht, ein viel dickeres drückt auf die Leiterplatte.
        [putty] Wärmeleitknete, an ihrem Platz { $thickness } mm dick.
       *[paste] Wärmeleitpaste, an ihrem Platz { $thickness } mm dick.
    }
site-bond = Klebung: { $size }.
site-bond-length = { $length } mm lang
site-bond-area = { $area } mm²
site-bond-area-most = höchstens { $area } mm²
site-press = jede Stelle { $figure } s andrücken
site-rest = { $figure } min beschwert liegen lassen
site-full = volle Festigkeit nach { $figure } h
site-drive-in = { $count } × { $letter }, { $kind }. Danach noch draußen: { $out }.
site-not-this = Nicht { $screw }:
site-slowest-bond = Die langsamste Klebung ist nach { $hours } h fest.
site-unknown-bonds = Zeiten unbekannt: { $names }.
# Sätze aus der Tabelle der Klebstoffe, nach Familie.
site-adhesive =
    { $sentence ->
        [stretch-strip-clean-1] Reste der Klebestreifen flach abziehen, nie über eine Ecke der Zelle.
        [stretch-strip-clean-2] Beide Flächen mit Isopropanol von mindestens 90 % und fusselfreiem Tuch abwischen; alles verdunsten lassen.
        [stretch-strip-lay] Streifen auf den Sitz legen, Laschen erreichbar; die Zelle wird einmal aufgesetzt, gerade von oben.
        [stretch-strip-note] Übliche Praxis, ohne Quelle.
        [acrylic-foam-clean-1] Reste mit einer Kunststoffkante abrollen oder abschaben, nie mit Metall nahe einer Zelle oder Flexleitung.
        [acrylic-foam-clean-2] Beide Flächen mit Isopropanol von mindestens 90 % und fusselfreiem Tuch abwischen; alles verdunsten lassen.
        [acrylic-foam-lay] Den neuen Rahmen auf das Teil legen, das ihn trägt, Ecken zuerst; Schutzfolie zuletzt abziehen.
        [acrylic-foam-note] Acrylatbänder werden über Stunden bis Tage fest; übliche Praxis, Zeiten ohne Quelle.
        [acrylic-tape-clean-1] Reste mit einer Kunststoffkante abrollen oder abschaben, nie mit Metall nahe einer Zelle oder Flexleitung.
        [acrylic-tape-clean-2] Beide Flächen mit Isopropanol von mindestens 90 % und fusselfreiem Tuch abwischen; alles verdunsten lassen.
        [acrylic-tape-lay] Das neue Band auf das Teil legen, das es trägt; Schutzfolie zuletzt abziehen; es wird einmal aufgelegt.
        [acrylic-tape-note] Acrylatbänder werden über Stunden bis Tage fest; übliche Praxis, Zeiten ohne Quelle.
        [reactive-hot-melt-clean-1] Die Klebelinie wie beim Öffnen erwärmen und abrollen: vernetzt schmilzt sie nicht mehr.
        [reactive-hot-melt-clean-2] Beide Flächen mit Isopropanol von mindestens 90 % und fusselfreiem Tuch abwischen; alles verdunsten lassen.
        [reactive-hot-melt-lay] Die neue Linie nach dem Datenblatt des Herstellers auftragen, oder Band, wo der Betrieb kein Dosiergerät hat.
        [reactive-hot-melt-note] 80 % der Festigkeit nach 24 h, alles nach 3 bis 5 Tagen (so auf Fachseiten wiedergegeben).
        [silicone-clean-1] Trocken abziehen und abreiben: Lösemittel richten bei Silikon wenig aus.
        [silicone-clean-2] Beide Flächen mit Isopropanol von mindestens 90 % und fusselfreiem Tuch abwischen; alles verdunsten lassen.
        [silicone-lay] Ohne Luft auflegen; Silikonbänder kleben nur auf Silikon.
        [silicone-note] Übliche Praxis, ohne Quelle.
        [unknown-clean-1] Reste mit einer Kunststoffkante abrollen oder abschaben, nie mit Metall nahe einer Zelle oder Flexleitung.
        [unknown-clean-2] Beide Flächen mit Isopropanol von mindestens 90 % und fusselfreiem Tuch abwischen; alles verdunsten lassen.
        [unknown-lay] Nach dem Datenblatt des verwendeten Klebstoffs.
        [unknown-note] Die Akte sagt nicht, welcher Klebstoff es ist: andrücken und aushärten, wie sein Hersteller es sagt.
       *[none] –
    }

site-index = Reparierbarkeitsindex
site-index-note = Verordnung (EU) 2023/1669, aus der Akte berechnet. Jede Zahl nennt ihre Fundstelle.
site-lowest-found = Eine Behörde darf finden
site-lowest-found-note = Klasse { $letter }; 0,96 R, Anhang IX Tabelle 10
site-with-assumed = Mit angenommenen Bedingungen
site-assumed-range =
    { $count ->
        [one] { $span }, mit { $count } angenommenen Bedingung oder ohne sie
       *[other] { $span }, mit { $count } angenommenen Bedingungen oder ohne sie
    }
site-assumed-undefined =
    { $count ->
        [one] keine Punktzahl festgelegt; { $count } angenommene Bedingung
       *[other] keine Punktzahl festgelegt; { $count } angenommene Bedingungen
    }
site-exactly = genau { $index }
site-rounding-matters = die Klasse hängt an der Rundung
site-rounding-firm = die Klasse bleibt bei Rundung gleich
site-scores = Teilwerte
site-score =
    { $symbol ->
        [SDD] Zerlegungstiefe
        [SF] Verbindungselemente
        [ST] Werkzeuge
        [SSP] Ersatzteile
        [SSU] Softwareaktualisierungen
       *[SRI] Reparaturinformationen
    }
site-no-score = keine Punktzahl festgelegt
site-index-parts = Punkte jedes Teils
site-index-parts-note = Von 1 bis 5. Ein Teil, das mehrfach da ist, zählt mit seinem niedrigsten Wert.
site-part-state =
    { $state ->
        [absent] nicht in diesem Gerät
       *[unknown] unbekannt, ob vorhanden
    }
site-missing = Was fehlt
site-missing-moves = (betrifft { $scores }; R sinkt um bis zu { $by })
site-below = Unter der niedrigsten Stufe
site-regulation =
    { $key ->
        [eco-2023-1670] Verordnung (EU) 2023/1670, Ökodesign von Smartphones und Slate-Tablets
        [bat-2023-1542] Verordnung (EU) 2023/1542, Batterien: Entfernbarkeit von Gerätebatterien
       *[unlike] { $title }
    }
site-applies =
    { $applies ->
        [yes] Gilt:
       *[no] Gilt nicht:
    }
site-verdict =
    { $verdict ->
        [not-met] Nicht erfüllt: { $count }
        [met] Erfüllt: { $count }
       *[not-decidable] Aus der Akte nicht zu entscheiden: { $count }
    }
site-trace = Wie gerechnet wurde
site-own-words = Die Sätze sind eigene, nicht der amtliche Wortlaut; es gilt die Verordnung.
site-steps-to = Schritte zu { $name }

site-lists = Listen
site-lists-note = Werkzeug und Verbrauchsmaterial sind die der Anleitungen hier. Die CSV-Dateien haben in jeder Sprache dieselben Spaltennamen; vor einem Text, den eine Tabellenkalkulation als Formel ausführen würde, steht ein Apostroph.
site-list =
    { $list ->
        [parts] Teile
        [tools] Werkzeug
        [consumables] Verbrauchsmaterial
       *[renewals] Neu für den Zusammenbau
    }
site-tool-group =
    { $group ->
        [basic] Grundwerkzeug
        [commercial] handelsüblich
        [proprietary] proprietär
        [spare_set] liegt dem Ersatzteil bei
        [product_set] liegt dem Produkt bei
        [none] bloße Hand
       *[unknown] unbekannt
    }
site-list-empty = Keine.
site-as-csv = { $list } als CSV
site-spare-way = nur wo eine Verbindung nicht nachgibt
site-role =
    { $role ->
        [battery] Akku
        [display] Display
        [back_cover] Rückabdeckung
        [front_camera] Frontkamera
        [rear_camera] Rückkamera
        [charging_port] Ladebuchse
        [button] Taste
        [microphone] Mikrofon
        [speaker] Lautsprecher
        [hinge] Scharnier
        [main_board] Hauptplatine
        [sub_board] Nebenplatine
        [sim_tray] SIM-Halter
        [card_tray] Kartenhalter
        [audio_connector] Audiobuchse
        [protective_foil] Schutzfolie
       *[unlike] sonstiges
    }
site-spare =
    { $spare ->
        [end_user] für alle
        [professional] für Fachbetriebe
        [none] nicht erhältlich
       *[unknown] unbekannt
    }

site-chapters = Kapitel
site-chapter =
    { $does ->
        [open] Öffnen: { $name }
       *[lift] Abnehmen: { $name }
    }
site-chapters-note = Aus dem Protokoll der Werkbank. Eine Zeile wird geschrieben, wenn ihr Handgriff getan ist; ein Kapitel beginnt also, wo das vorige endet. Die Zeiten sind die der Aufnahme.
site-about-webvtt = Kapitel für ein Video-Element
site-about-times = Zeilen aus Zeit und Titel, keines kürzer als 10 s

site-photos = Fotos
site-photos-note = Ohne Ort, Datum und Gerät; was geschwärzt wurde, ist fort.
site-photos-lacking =
    { $count ->
        [one] { $count } Foto der Akte fehlt hier: sein Bild lag nicht vor.
       *[other] { $count } Fotos der Akte fehlen hier: ihre Bilder lagen nicht vor.
    }
site-photo = Foto des Geräts
site-photo-of = Zeigt { $names }
site-photo-at = Bei { $time } des Protokolls: { $what }
