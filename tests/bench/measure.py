"""What a bench measures, and how a child process is measured."""

import os
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
KIB_PER_UNIT = 1 / 1024 if sys.platform == "darwin" else 1  # of ru_maxrss


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One line of the table.

    *ratio* compares with something measured in the same run on the same machine,
    which *against* names: that travels from machine to machine, seconds do not.
    *value* is of what has neither seconds nor memory, in *unit*; *wanted* is what the
    project wants of it, in words.
    """

    bench: str
    what: str
    seconds: float | None = None
    peak_mib: float | None = None
    ratio: float | None = None
    against: str = ""
    value: float | None = None
    unit: str = ""
    wanted: str = ""


@dataclass(frozen=True, slots=True)
class Child:
    """How a child process went: wall and processor seconds, and its peak memory."""

    seconds: float
    processor: float
    peak_mib: float


def run_child(arguments: Sequence[str], output: Path) -> Child:
    """Run this Python with *arguments*, its output to a file; CalledProcessError."""
    command = [sys.executable, *arguments]
    with output.open("wb") as out:
        start = time.perf_counter()
        child = subprocess.Popen(
            command, cwd=ROOT, stdout=out, env={**os.environ, "PYTHONPATH": str(ROOT)}
        )
        _, status, usage = os.wait4(child.pid, 0)
        seconds = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise subprocess.CalledProcessError(child.returncode, command)
    processor = usage.ru_utime + usage.ru_stime
    return Child(seconds, processor, usage.ru_maxrss * KIB_PER_UNIT / 1024)
