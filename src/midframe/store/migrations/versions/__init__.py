"""One file a step, named after what it brings."""
