# Die Wörter der Akten für Werkzeuge, Arbeitsgänge und Antriebe, und feste Wörter der Ergebnisse.
tool-spudger = Kunststoffheber
drive-hexalobular = Innensechsrund
