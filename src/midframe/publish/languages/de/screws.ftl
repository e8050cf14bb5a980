# Das maßstäbliche Schraubenblatt, seine Liste und die Etiketten der Schalen.
screw-sheet = Schraubenblatt, { $device }
screw-sheet-page = Schraubenblatt von { $device }, Seite { $page }
screw-list-page = Schrauben von { $device }, Liste
screw-labels-page = Etiketten der Schalen von { $device }
screw-seen =
    { $side ->
        [front] { $device }: Schrauben, von vorn gesehen
       *[back] { $device }: Schrauben, von hinten gesehen
    }
screw-mirrored =
    { $side ->
        [front] { $device }: Schrauben der Vorderseite, gespiegelt
       *[back] { $device }: Schrauben der Rückseite, gespiegelt
    }
screw-explained = Oberkante des Geräts oben, maßstäblich. An jedem Loch: Reihenfolge · Sorte, Länge in mm.
screw-invented = Erfundenes Gerät.
screw-tiles = Blatt { $page } von { $pages } des Plans: die Kreuze aufeinanderlegen.
screw-list = Liste.
screw-kinds = Sorten
screw-order = Reihenfolge heraus
screw-stays = bleibt
screw-without-place = { $count } ohne Ort in der Akte
screw-together = Auf dieser Seite zusammen: { $count }
screw-none-drawn =
    { $count ->
        [one] { $count } davon ohne Ort: nicht gezeichnet
       *[other] { $count } davon ohne Ort: nicht gezeichnet
    }
screw-other-side =
    { $count ->
        [one] { $count } weitere wird von der anderen Seite gelöst
       *[other] { $count } weitere werden von der anderen Seite gelöst
    }
screw-code-opens = Der Code öffnet { $link }
screw-no-code = Kein Code: es wurde keine Adresse der Akte angegeben.
tray = Schale { $number }
bag = Beutel
bag-trays =
    { $count ->
        [one] { $count } Schale
       *[other] { $count } Schalen
    }
bag-screws =
    { $count ->
        [one] { $count } Schraube
       *[other] { $count } Schrauben
    }
bag-opened = geöffnet
bag-closed = geschlossen
tray-more-screws =
    { $count ->
        [one] und { $count } Schraube: siehe Liste
       *[other] und { $count } Schrauben: siehe Liste
    }
tray-more-parts =
    { $count ->
        [one] und { $count } weiteres Teil
       *[other] und { $count } weitere Teile
    }
tray-parts =
    { $count ->
        [one] { $count } Teil
       *[other] { $count } Teile
    }
screw-unknown = Schraube unbekannter Sorte
scale-check = Vor Gebrauch messen: dieser Balken ist { $bar } mm lang, der senkrechte { $upright } mm. Sonst mit 100 % drucken, nicht an die Seite angepasst.
