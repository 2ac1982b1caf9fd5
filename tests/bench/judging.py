"""`witnessmark judge` on a file of many rows, against only reading and writing it."""

import json
import tempfile
from pathlib import Path

from tests.bench.measure import Child, Measured, run_child
from tests.bench.readings import write_readings

SIZES = (10_000, 100_000)
# The same file parsed as CSV and printed as JSON with the standard library: what
# any program of this shape has to do at least.
BASELINE = """
import csv, json, sys
with open(sys.argv[1], encoding="utf-8", newline="") as file:
    for row in csv.DictReader(file):
        print(json.dumps(row))
"""


def run() -> list[Measured]:
    """Judge files of both sizes, checking that a verdict came out for each row."""
    found: list[Measured] = []
    small: Child | None = None
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for size in SIZES:
            file = write_readings(folder / f"{size}.csv", size)
            output = folder / "out.jsonl"
            least = run_child(["-c", BASELINE, str(file)], output)
            judged = run_child(["-m", "webapp.cli", "judge", str(file)], output)
            check(output, size)
            found.append(
                Measured(
                    bench="judge",
                    what=f"{size} rows",
                    seconds=judged.seconds,
                    peak_mib=judged.peak_mib,
                    ratio=judged.seconds / least.seconds,
                    against="csv in, json out",
                )
            )
            if small is None:
                small = judged
                continue
            found.append(
                Measured(
                    bench="judge",
                    what=f"{size} rows, a row",
                    seconds=judged.seconds / size,
                    ratio=(judged.seconds / size) / (small.seconds / SIZES[0]),
                    against=f"a row of {SIZES[0]}",
                )
            )
    return found


def check(output: Path, size: int) -> None:
    """Raise ValueError unless there is a verdict for each row, in order."""
    with output.open(encoding="utf-8") as file:
        ids = [json.loads(line)["id"] for line in file]
    if ids != [f"r{number}" for number in range(size)]:
        raise ValueError(f"{len(ids)} rows came out of {size}, or in another order")
