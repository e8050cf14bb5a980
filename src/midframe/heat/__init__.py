"""Heat: soften the bond without cooking the cell."""
