# Die Sätze des Pausenzettels: was zuletzt getan wurde, was beim Weggehen zu tun, bei der Rückkehr anzusehen ist.
pause-nothing-opened = nichts geöffnet
pause-opened = { $joint } geöffnet
pause-lifted = { $parts } abgenommen
pause-leave-hot = Alles Heiße ausschalten; Gerät und Werkzeug abkühlen, alles Lösemittel verdunsten lassen.
pause-leave-connected = Der Akku ist angeschlossen: Gerät ausschalten, offene Kontakte gegen Metall abdecken.
pause-leave-hanging = Was am Kabel hängt, ohne Zug und Knick abstützen: { $joints }.
pause-leave-cell = Die Zelle liegt offen: Kontakte abdecken, nichts darauflegen, fern von Wärme und Brennbarem lagern.
pause-leave-adhesive = Offene Klebeflächen gegen Staub abdecken; Schutzfolien bleiben, bis das Teil aufgesetzt wird.
pause-leave-boards = Leiterplatten in ableitfähige Beutel oder Schalen legen; auf jede Schale ein Deckel, darauf ihre Nummer.
pause-return-cell = Zuerst die Zelle ansehen: aufgebläht, warm oder riechend heißt abbrechen.
pause-screws =
    { $screws ->
        [one] { $screws } Schraube
       *[other] { $screws } Schrauben
    }
pause-return-trays =
    { $trays ->
        [one] Die Schale ist da, und { pause-screws } darin.
       *[other] Alle { $trays } Schalen sind da, und { pause-screws } darin.
    }
pause-return-kinds =
    { $trays ->
        [one] Die Schale ist da, und { pause-screws } darin: { $kinds }.
       *[other] Alle { $trays } Schalen sind da, und { pause-screws } darin: { $kinds }.
    }
pause-of-kind = { $count } × { $letter }
pause-return-hanging = Dies hängt noch am Gerät, nicht daran ziehen: { $joints }.
pause-return-arrived = Angekommen und das richtige Teil: { $item }.
pause-return-arrived-noted = Angekommen und das richtige Teil: { $item } ({ $note }).
pause-return-adhesive = Offene Klebeflächen sind sauber und frei von Staub; alte Schutzfolien sind unberührt.
