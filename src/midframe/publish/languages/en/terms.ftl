# The words that records use for tools, operations and drives, and the fixed words of results.
tool-spudger = spudger
drive-hexalobular = hexalobular
