"""Battery checks on the bench: label, health from a log, handling and shipping, two records side by side."""
