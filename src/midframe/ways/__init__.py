"""Ways in: the rules of the moves, the exact search, the counting of steps, and what follows from a way."""
