"""How much of a spoken strip-down is understood: precision and recall by kind, over captions and truth.

    PYTHONPATH=src:tests .venv/bin/python -P benchmarks/narration.py [--missed]

Beside each caption in tests/narration/captions/dev and …/held_out stands a hand-made truth. The rules were
tried on `dev` only. A half that is not there is skipped. How an item is matched with the truth is told in
tests/narration/truth.py; details (count, drive, length, time, temperature, tools, where to) count apart,
over matched moves, and so are captions that must make no item.
"""

from __future__ import annotations

import argparse
from collections import Counter

from narration.truth import FOLDER, KINDS, compared, talks


def share(part, whole):
    """A share with its numbers, or a dash where there is nothing."""
    return f"{part / whole:6.3f} ({part}/{whole})" if whole else "     –"


def row(name, counts):
    """One line of the table."""
    kinds = "".join(
        f"  {kind} {share(counts[kind, 'right'], counts[kind, 'made'])}"
        f" / {share(counts[kind, 'right'], counts[kind, 'true'])}"
        for kind in (*KINDS, "all")
    )
    print(f"{name:16}{kinds}")
    print(
        f"{'':16}  details {share(counts['detail', 'right'], counts['detail', 'true'])}"
        f"  kept aside {share(counts['aside', 'right'], counts['aside', 'true'])}"
    )


def main():
    """Print the table for each half that is there."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--missed", action="store_true", help="name what was missed and what was too much")
    asked = parser.parse_args()
    print("precision / recall by kind")
    for half in ("dev", "held_out"):
        if not (FOLDER / half).is_dir():
            print(f"{half}: not there, skipped")
            continue
        total = Counter()
        for talk in talks(half):
            result = compared(talk)
            total += result.counts
            row(f"{half} {talk.name}", result.counts)
            if asked.missed:
                for line in result.lines:
                    print(f"{'':18}{line}")
        row(f"{half} in all", total)


if __name__ == "__main__":
    main()
