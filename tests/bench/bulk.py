"""`witnessmark judge` on very many rows: time against pandas, and peak memory."""

import tempfile
from pathlib import Path

from tests.bench.measure import Child, Measured, run_child
from tests.bench.mixed_rows import tests_of, write_mixed
from tests.bench.readings import write_readings
from tests.data.golden_cases import CASES

ROWS = 1_000_000
MANY = 5_000_000
TURNS = 2  # the best of them is taken: what else runs on the machine only slows
# The same file read and written, with nothing done to it.
PANDAS = """
import sys, pandas
pandas.read_csv(sys.argv[1]).to_csv(sys.argv[2], index=False)
"""


def run() -> list[Measured]:
    """Judge CSV to CSV, checking that a verdict came out for each row.

    Seconds are the processor's: both programs use one core.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        file = write_readings(folder / "readings.csv", ROWS)
        least = best(["-c", PANDAS, str(file), str(folder / "same.csv")], folder)
        judged = best(arguments(file, folder), folder)
        check(folder / "out.csv", ROWS)
        million = Measured(
            bench="bulk",
            what=f"{ROWS} rows, CSV to CSV",
            seconds=judged.processor,
            peak_mib=judged.peak_mib,
            ratio=judged.processor / least.processor,
            against="pandas reads and writes it",
        )
        file = write_readings(file, MANY)
        judged = run_child(arguments(file, folder), folder / "nothing")
        check(folder / "out.csv", MANY)
        most = Measured(
            bench="bulk",
            what=f"{MANY} rows, CSV to CSV",
            seconds=judged.processor,
            peak_mib=judged.peak_mib,
            ratio=judged.peak_mib / million.peak_mib if million.peak_mib else None,
            against=f"memory of {ROWS} rows",
        )
    return [million, most]


def run_mixed() -> list[Measured]:
    """Judge a file with rows of every procedure, CSV to CSV."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        file = write_mixed(folder / "readings.csv", ROWS)
        least = best(["-c", PANDAS, str(file), str(folder / "same.csv")], folder)
        judged = best(arguments(file, folder), folder)
        check(folder / "out.csv", ROWS)
    return [
        Measured(
            bench="mixed",
            what=f"{ROWS} rows of {len(tests_of(CASES))} procedures, CSV to CSV",
            seconds=judged.processor,
            peak_mib=judged.peak_mib,
            ratio=judged.processor / least.processor,
            against="pandas reads and writes it",
            wanted="at most 3",
        )
    ]


def arguments(file: Path, folder: Path) -> list[str]:
    out = str(folder / "out.csv")
    return ["-m", "webapp.cli", "judge", str(file), "--out", out]


def best(command: list[str], folder: Path) -> Child:
    """Return the quickest of some turns by processor time."""
    turns = [run_child(command, folder / "nothing") for _ in range(TURNS)]
    return min(turns, key=lambda child: child.processor)


def check(output: Path, size: int) -> None:
    """Raise ValueError unless there is a row for each row, in order."""
    count = 0
    with output.open(encoding="utf-8", newline="") as file:
        next(file)
        for count, line in enumerate(file, start=1):  # no id holds an end of line
            if not line.startswith(f"r{count - 1},"):
                raise ValueError(f"row {count} came out in another order")
    if count != size:
        raise ValueError(f"{count} rows came out of {size}")
