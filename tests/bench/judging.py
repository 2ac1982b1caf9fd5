"""`witnessmark judge` on a file of many rows, against only reading and writing it."""

import csv
import json
import random
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from tests.bench.measure import Child, Measured, run_child

SIZES = (10_000, 100_000)
# The same file parsed as CSV and printed as JSON with the standard library: what
# any program of this shape has to do at least.
BASELINE = """
import csv, json, sys
with open(sys.argv[1], encoding="utf-8", newline="") as file:
    for row in csv.DictReader(file):
        print(json.dumps(row))
"""
COLUMNS = (
    "id",
    "test",
    "gear",
    "rated_kv",
    "group",
    "point",
    "value",
    "unit",
    "temperature_c",
    "test_kv",
    "supply",
    "duration_s",
    "test_current_a",
    "conductor",
    "curve",
    "pickup_a",
    "applied_a",
    "time_dial",
    "accuracy",
)


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


def write_readings(path: Path, size: int) -> Path:
    """Write a readings file with rows of every procedure; the same at every run."""
    dice = random.Random(size)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        for number in range(size):
            make = MAKERS[number // 3 % len(MAKERS)]
            writer.writerow({"id": f"r{number}", **make(number, dice)})
    return path


def _insulation(number: int, dice: random.Random) -> dict[str, object]:
    return {
        "test": "insulation_resistance",
        "gear": "metal_clad",
        "rated_kv": dice.choice((4.76, 15, 38)),
        "value": f"{dice.uniform(0.5, 900):.2f}",
        "unit": "GOhm",
        "temperature_c": f"{dice.uniform(5, 40):.1f}",
        "test_kv": 5,
        "accuracy": "5% + 0.02",
    }


def _contact(number: int, dice: random.Random) -> dict[str, object]:
    return {
        "test": "contact_resistance",
        "gear": "metal_clad",
        "group": f"g{number // 3}",
        "point": "ABC"[number % 3],
        "value": f"{dice.uniform(28, 46):.1f}",
        "unit": "uOhm",
        "temperature_c": f"{dice.uniform(5, 40):.1f}",
        "test_current_a": 100,
        "conductor": "copper",
        "accuracy": "1% + 0.1",
    }


def _timing(number: int, dice: random.Random) -> dict[str, object]:
    return {
        "test": "relay_timing",
        "value": f"{dice.uniform(0.3, 3):.3f}",
        "unit": "s",
        "curve": dice.choice(("ieee_very_inverse", "iec_standard_inverse")),
        "pickup_a": 400,
        "applied_a": dice.choice((800, 1600, 3200)),
        "time_dial": 0.5,
    }


def _withstand(number: int, dice: random.Random) -> dict[str, object]:
    return {
        "test": "dielectric_withstand",
        "gear": "metal_clad",
        "rated_kv": 15,
        "value": "held",
        "test_kv": dice.choice((26, 27, 30)),
        "supply": "ac",
        "duration_s": 60,
    }


Maker = Callable[[int, random.Random], dict[str, object]]
MAKERS: Sequence[Maker] = (_insulation, _contact, _timing, _withstand)
