"""Results as plain data for `--json`: the keys of docs/json.md and nothing else."""
