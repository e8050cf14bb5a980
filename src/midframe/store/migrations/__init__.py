"""The schema step by step, run from code when a store is behind."""
