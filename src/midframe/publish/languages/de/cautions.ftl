# Warnhinweise; jede Zeile eines Textes ist ein Absatz. Die Schlüssel in Klammern nennen die Quellen.
caution-cell-title = Lithiumzelle
caution-cell-text =
    Die Zelle nie anstechen, biegen, quetschen oder als Hebelauflage benutzen; in ihrer Nähe nur stumpfe Kanten, die nicht aus Metall sind.
    Vor Wärme oder Hebeln auf 30 % oder weniger entladen (übliche Praxis). Die Kontakte nie überbrücken.
    Metallschale, trockenen Sand und einen freien Fluchtweg bereithalten.
caution-swollen-title = Aufgeblähte, heiße, zischende oder riechende Zelle: Arbeit abbrechen
caution-swollen-text =
    Keine Wärme, kein Hebeln, kein Laden. Eine aufgeblähte Zelle nie anstechen, um sie zu entlasten: das Gas brennt und ist giftig [kane-county-batteries, page].
    Erwärmt sich die Zelle, sie mit einem Metallwerkzeug an eine Stelle bringen, die nicht brennen kann, und die Feuerwehr rufen [kane-county-batteries, page].
caution-heat-title = Wärme
caution-heat-text =
    Wärme verbrennt die Haut und schadet Zelle und Display: an der erwärmten Stelle messen, die Oberfläche der Zelle unter 60 °C halten (übliche Praxis), im Zweifel abbrechen.
    Beim Gerät bleiben, solange erwärmt wird. Eine aufgeblähte oder beschädigte Zelle nie erwärmen.
caution-solvent-title = Lösemittel
caution-solvent-text =
    Der Dampf von Isopropanol ist an jedem Arbeitsplatz entzündlich: Flammpunkt 11,7 °C [niosh-npg-0359, entry].
    Nie zusammen mit Wärme, heißem Werkzeug, offener Flamme oder Laden: vorher alles abkühlen, danach alles verdunsten lassen. Lüften, Handschuhe tragen, die Menge klein halten.
caution-glass-title = Glas
caution-glass-text = Glas kann splittern: Augenschutz, schnittfeste Handschuhe; gesprungenes Glas vor dem Hebeln mit Klebeband abkleben.
caution-static-title = Elektrostatische Entladung
caution-static-text = Handgelenkband und ableitfähige Matte, beide am gemeinsamen Erdungspunkt, bevor eine Leiterplatte berührt wird.
caution-mains-title = Heißes Werkzeug am Netz
caution-mains-text =
    Kabel und Stecker prüfen, Steckdose mit Fehlerstrom-Schutzeinrichtung benutzen, heißes Werkzeug im Ständer ablegen.
    Nur mit Absaugung und Augenschutz löten, und nur bei abgestecktem Akku.
caution-live-title = Bei angeschlossenem Akku geöffnet
caution-live-text = Der Akkustecker wird nicht vorher gelöst: Gerät ausschalten, Metall von den Kontakten fernhalten.
caution-local-title = Örtliche Vorschriften gehen vor
caution-local-text = Örtliche Vorschriften und die Regeln der zugelassenen Fachbetriebe gehen dieser Anweisung vor, ebenso das Abfallrecht für Zellen. Wem für einen der Warnhinweise die Ausbildung oder die Mittel fehlen, der überlässt die Arbeit jemandem, der beides hat.
