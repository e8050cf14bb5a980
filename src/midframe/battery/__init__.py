"""Battery checks on the bench: the label, health from a log, handling and shipping, two records side by side."""
