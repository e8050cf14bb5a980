# Cautions; each line of a text is a paragraph. The keys in brackets name the sources.
caution-cell-title = Lithium cell
caution-cell-text =
    Never puncture, bend, crush or lever against the cell; near it use blunt, non-metal edges.
    Discharge to 30 % or less before heat or prying (common practice). Never bridge its contacts.
    Keep a metal tray, dry sand and a clear way out at hand.
caution-swollen-title = Swollen, hot, hissing or smelling cell: stop
caution-swollen-text =
    No heat, no prying, no charging. Never puncture a swollen cell to let it down: the gas burns and is toxic [kane-county-batteries, page].
    If it heats up, move it with a metal tool to a place that cannot burn and call the fire service [kane-county-batteries, page].
caution-heat-title = Heat
caution-heat-text =
    Heat burns skin and harms the cell and the display: measure where you heat, keep the cell's surface below 60 °C (common practice), and stop when in doubt.
    Stay with the device while heat is on. Never heat a swollen or damaged cell.
caution-solvent-title = Solvent
caution-solvent-text =
    The vapour of isopropanol ignites at any bench: flash point 11.7 °C [niosh-npg-0359, entry].
    Never together with heat, a hot tool, a flame or charging: let everything cool before, let all of it evaporate after. Ventilate, wear gloves, keep the quantity small.
caution-glass-title = Glass
caution-glass-text = Glass may splinter: eye protection, cut-resistant gloves; tape over cracked glass before prying.
caution-static-title = Static electricity
caution-static-text = Wrist strap and dissipative mat, both on the common earth point, before any board is touched.
caution-mains-title = Mains-powered hot tools
caution-mains-text =
    Inspect cable and plug, use a socket with residual-current device, rest hot tools on a stand.
    Solder with extraction and eye protection, and only with the battery disconnected.
caution-live-title = Opened while the battery is connected
caution-live-text = The battery's plug is not opened before: switch the device off, keep metal off the contacts.
caution-local-title = Local rules go first
caution-local-text = Local codes and the practice of licensed trades go before this sheet, and so does the waste law for cells. Who lacks the training or the means for a caution above leaves the work to someone who has both.
