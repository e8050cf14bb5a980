"""How long the command line takes to start, against the bare interpreter, side by side in one run.

Run: PYTHONPATH=src .venv-dev/bin/python benchmarks/start.py
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
ROUNDS = 15
PROGRAMS = {
    "bare interpreter": [sys.executable, "-P", "-c", "pass"],
    "import midframe": [sys.executable, "-P", "-c", "import midframe"],
    "midframe --version": [sys.executable, "-P", "-m", "midframe", "--version"],
    "midframe --help": [sys.executable, "-P", "-m", "midframe", "--help"],
}


def seconds(command: list[str]) -> float:
    """Wall time of one fresh start; byte code is kept, as it is for a user."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    started = time.perf_counter()
    subprocess.run(
        command, check=True, stdout=subprocess.DEVNULL, env=kept | {"PYTHONPATH": str(ROOT / "src")}
    )
    return time.perf_counter() - started


def main() -> None:
    """Interleave the programs, so that a busy moment hits all of them, and print medians."""
    times: dict[str, list[float]] = {name: [] for name in PROGRAMS}
    for _ in range(ROUNDS):
        for name, command in PROGRAMS.items():
            times[name].append(seconds(command))
    base = statistics.median(times["bare interpreter"])
    for name, measured in times.items():
        median = statistics.median(measured)
        print(f"{name:20} {median * 1000:6.1f} ms  {median / base:4.1f} times the bare interpreter")


if __name__ == "__main__":
    main()
