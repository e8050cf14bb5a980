# Wörter für die Werte von Aufzählungen, überall dieselben.
kind =
    { $kind ->
        [screw] Schraubverbindung
        [connector] Steckverbindung
        [clip] Rastverbindung
        [adhesive] Klebeverbindung
        [solder] Lötverbindung
       *[other] andere Verbindung
    }
closing =
    { $kind ->
        [screw] einschrauben
        [connector] einstecken
        [clip] einrasten
        [adhesive] kleben
        [solder] löten
        [other] schließen
       *[none] einsetzen
    }
least =
    { $cost ->
        [steps] Schritte
        [seconds] Sekunden
        [money] Kosten
       *[risk] Risiko
    }
least-together = { $one } zusammen mit { $other }
least-then = { $one }, dann { $other }
kept-to = { $least }, { $condition }
