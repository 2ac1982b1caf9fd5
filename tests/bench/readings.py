"""A readings file as an owner of many lineups has it; the same at every run."""

import csv
import math
import random
from collections.abc import Callable, Sequence
from pathlib import Path

COLUMNS = (
    "id",
    "test",
    "gear",
    "rated_kv",
    "rated_withstand_kv",
    "group",
    "point",
    "value",
    "unit",
    "temperature_c",
    "humidity_pct",
    "test_kv",
    "supply",
    "method",
    "duration_s",
    "test_current_a",
    "insulation",
    "conductor",
    "limit",
    "curve",
    "pickup_a",
    "applied_a",
    "time_dial",
    "accuracy",
)
# Rated maximum voltage and the test voltage of its class, both kV.
RATINGS = ((4.76, 2.5), (15, 2.5), (15.5, 2.5), (27, 5), (38, 10))
CURRENTS = (600, 800, 1200, 1440, 2400, 3600)
# A sixteenth or so of the readings is not what it should be, as in the field.
SLIPS = 0.06


def write_readings(path: Path, size: int) -> Path:
    """Write a readings file with rows of every procedure, three by three."""
    dice = random.Random(size)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        for number in range(0, size, 3):
            make = MAKERS[number // 3 % len(MAKERS)]
            for at, row in enumerate(make(number, dice)[: size - number]):
                row["id"] = f"r{number + at}"
                row["point"] = "ABC"[at]
                writer.writerow([row.get(name, "") for name in COLUMNS])
    return path


Row = dict[str, object]


def _insulation(number: int, dice: random.Random) -> list[Row]:
    rated_kv, test_kv = dice.choice(RATINGS)
    temperature_c = f"{dice.uniform(5, 38):.1f}"
    typical = dice.lognormvariate(math.log(400), 0.6)
    accuracy = dice.choice(("5% + 0.02", "3%", "5%", ""))
    return [
        {
            "test": "insulation_resistance",
            "gear": dice.choice(("metal_clad", "metal_enclosed")),
            "rated_kv": rated_kv,
            "value": _slip(f"{typical * dice.uniform(0.7, 1.4):.1f}", "0.4", dice),
            "unit": "GOhm",
            "temperature_c": temperature_c,
            "humidity_pct": dice.randint(25, 75),
            "test_kv": test_kv,
            "insulation": dice.choice(("solid", "solid", "")),
            "accuracy": accuracy,
        }
        for _ in "ABC"
    ]


def _contact(number: int, dice: random.Random) -> list[Row]:
    typical = dice.uniform(25, 60)
    temperature_c = f"{dice.uniform(5, 38):.1f}"
    limit = dice.choice(("", 70, 90))
    return [
        {
            "test": "contact_resistance",
            "gear": "metal_clad",
            "group": f"breaker {number}",
            "value": _slip(
                f"{typical * dice.uniform(0.94, 1.08):.1f}", f"{typical * 2:.1f}", dice
            ),
            "unit": "uOhm",
            "temperature_c": temperature_c,
            "test_current_a": dice.choice((100, 200)),
            "conductor": "copper",
            "limit": limit,
            "accuracy": dice.choice(("1% + 0.1", "0.5% + 0.2")),
        }
        for _ in "ABC"
    ]


def _timing(number: int, dice: random.Random) -> list[Row]:
    """IEC standard and IEEE very inverse, as in `relay_curves`."""
    name, a, b, p = dice.choice(
        (
            ("iec_standard_inverse", 0.14, 0.0, 0.02),
            ("ieee_very_inverse", 19.61, 0.491, 2.0),
        )
    )
    pickup_a, dial = dice.choice(CURRENTS), dice.choice((0.1, 0.3, 0.5, 1, 2))
    return [
        {
            "test": "relay_timing",
            "value": _slip(
                f"{dial * (a / (times**p - 1) + b) * dice.uniform(0.98, 1.02):.4f}",
                "99",
                dice,
            ),
            "unit": "s",
            "curve": name,
            "pickup_a": pickup_a,
            "applied_a": pickup_a * times,
            "time_dial": dial,
            "accuracy": "0.05% + 0.001",
        }
        for times in (2, 4, 8)
    ]


def _vacuum(number: int, dice: random.Random) -> list[Row]:
    return [
        {
            "test": "vacuum_integrity",
            "gear": "metal_clad",
            "value": _slip(
                f"{dice.lognormvariate(math.log(8e-4), 0.7):.2e}", "0.5", dice
            ),
            "unit": "Pa",
            "temperature_c": dice.randint(10, 30),
            "method": "magnetron",
            "accuracy": "10%",
        }
        for _ in "ABC"
    ]


def _withstand(number: int, dice: random.Random) -> list[Row]:
    return [
        {
            "test": "dielectric_withstand",
            "gear": "metal_clad",
            "rated_kv": 15,
            "rated_withstand_kv": 36,
            "value": _slip("held", "broke_down", dice),
            "test_kv": dice.choice((27, 27.2, 27.5)),
            "supply": "ac",
            "duration_s": 60,
        }
        for _ in "ABC"
    ]


def _slip(value: str, slip: str, dice: random.Random) -> str:
    return slip if dice.random() < SLIPS else value


Maker = Callable[[int, random.Random], list[Row]]
MAKERS: Sequence[Maker] = (_insulation, _contact, _timing, _vacuum, _withstand)
