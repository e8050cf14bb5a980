// Replaced by the outbox of photos and moves.
