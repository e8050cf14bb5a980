"""Linear algebra of the server and its workers runs in one thread, unless the user said otherwise."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from midframe.web.worker import ONE_THREAD, one_thread

CHILD = """
import sys
import midframe.web.worker
assert "numpy" not in sys.modules, "numpy was loaded before its threads were set"
midframe.web.worker.one_thread()
import numpy
status = open("/proc/self/status").read()
print(status.split("Threads:")[1].split()[0])
"""


def test_what_the_user_said_stands(monkeypatch):
    monkeypatch.delenv("OMP_NUM_THREADS", raising=False)
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "3")
    monkeypatch.setenv("MKL_NUM_THREADS", "1")
    one_thread()
    found = {name: os.environ[name] for name in ONE_THREAD}
    monkeypatch.delenv("OMP_NUM_THREADS")
    assert found == {"OPENBLAS_NUM_THREADS": "3", "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}


@pytest.mark.skipif(
    sys.platform != "linux" or (os.cpu_count() or 1) < 2, reason="counts threads as Linux tells them"
)
@pytest.mark.parametrize(("said", "threads"), [({}, 1), ({"OPENBLAS_NUM_THREADS": "2"}, 2)])
def test_a_process_that_serves_has_one_thread_of_linear_algebra(said, threads):
    around = {name: value for name, value in os.environ.items() if name not in ONE_THREAD} | said
    command = [sys.executable, "-P", "-c", CHILD]
    told = subprocess.run(command, env=around, capture_output=True, text=True, check=True, timeout=30)
    assert int(told.stdout) == threads
