"""The shape of the source: how long functions and files are, what mypy finds.

Counts are of models, webapp and seed_demo: a function runs from its `def` to its last
line, nested ones count by themselves.
"""

import ast
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from statistics import median, quantiles

from tests.bench.measure import ROOT, Measured

ROOMS = ("models", "webapp", "seed_demo")
LONG_FILE = 400  # lines


def run() -> list[Measured]:
    """Measure lengths and findings."""
    files = [path for room in ROOMS for path in sorted((ROOT / room).rglob("*.py"))]
    scripts = sorted((ROOT / "webapp").rglob("*.js"))
    lengths = [length for path in files for length in function_lengths(path)]
    return [
        _counted("median function", median(lengths), "lines", "at most 9"),
        _counted("p90 function", quantiles(lengths, n=10)[8], "lines", "at most 25"),
        _counted("functions", len(lengths), "", ""),
        *(
            _counted(f"long file {path.relative_to(ROOT)}", lines, "lines", "400")
            for path, lines in long_files([*files, *scripts])
        ),
        _counted("findings of mypy", mypy_findings(), "", "0"),
    ]


def _counted(what: str, value: float, unit: str, wanted: str) -> Measured:
    return Measured(bench="shape", what=what, value=value, unit=unit, wanted=wanted)


def function_lengths(path: Path) -> Iterator[int]:
    """Yield the lines of every function of a Python file."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield (node.end_lineno or node.lineno) - node.lineno + 1


def long_files(files: Sequence[Path]) -> list[tuple[Path, int]]:
    """Return the files above 400 lines, the longest first."""
    counted = [(path, len(path.read_text("utf-8").splitlines())) for path in files]
    long = [one for one in counted if one[1] > LONG_FILE]
    return sorted(long, key=lambda one: -one[1])


def mypy_findings() -> int:
    """Return how many errors mypy finds with the project's settings."""
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--no-error-summary"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    return sum(": error:" in line for line in done.stdout.splitlines())
