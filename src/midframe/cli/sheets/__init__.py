"""Results as text for a terminal or a pipe: plain, aligned, within the width."""
