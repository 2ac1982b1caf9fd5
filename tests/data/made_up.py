"""Made-up readings and texts by which two readers of a rule are compared."""

import random
from collections.abc import Iterator
from typing import Any

from models.criteria import load
from models.judging import PROCEDURES, Subject, compile_rule

OPTIONED_RELAYS = tuple(
    Subject(
        curve="iec_standard_inverse",
        pickup_a=100.0,
        time_dial=0.3,
        tolerance_pct=5.0,
        **options,
    )
    for options in (
        {"bands": "iec_60255_151", "current_error_pct": 1.0},
        {"ceiling_multiple": 10.0, "minimum_time_s": 0.7},
        {"pickup_error_pct": 5.0, "current_error_pct": 1.0, "ceiling_multiple": 20.0},
        {"pickup_error_pct": 40.0},
        {"timed_against": "measured_pickup", "pickup_error_pct": 3.0},
        {"minimum_time_s": 50.0},
    )
)
SUBJECTS: dict[str, tuple[Subject, ...]] = {
    "insulation_resistance": (
        Subject(gear="metal_clad", rated_kv=15.0),
        Subject(gear="metal_enclosed", rated_kv=38.0, insulation="oil"),
        Subject(rated_kv=7.2, limit=2.0, limit_unit="GOhm"),
        Subject(),
    ),
    "contact_resistance": (
        Subject(),
        Subject(conductor="copper", limit=50.0),
        Subject(conductor="aluminium", limit=0.08, limit_unit="mOhm"),
    ),
    "dielectric_withstand": (
        Subject(gear="metal_clad", rated_kv=15.0),
        Subject(gear="gas_insulated", rated_kv=24.0, rated_withstand_kv=50.0),
        Subject(gear="metal_clad", rated_kv=15.0, altitude_m=1234.5),
        Subject(gear="metal_clad", rated_kv=15.0, altitude_m=3210.0),
        Subject(gear="metal_enclosed", rated_kv=12.0, level_dc_kv=52.0),
    ),
    "vacuum_integrity": (
        Subject(gear="metal_clad", rated_kv=15.0),
        Subject(rated_kv=12.0, level_dc_kv=50.0, limit=5e-5, limit_unit="mbar"),
    ),
    "relay_timing": tuple(
        Subject(curve=curve, pickup_a=pickup_a, time_dial=dial, tolerance_pct=pct)
        for curve, pickup_a, dial, pct in (
            ("iec_standard_inverse", 100.0, 0.3, None),
            ("iec_extremely_inverse", 640.0, 0.55, 3.0),
            ("ieee_moderately_inverse", 5.0, 5.0, None),
            ("ieee_very_inverse", 0.1, 1.5, 7.5),
            ("definite_time", 100.0, 0.02, None),
            (None, 100.0, 0.3, None),
        )
    )
    + OPTIONED_RELAYS,
}
USUAL = {
    "insulation_resistance": (5.0, "GOhm"),
    "contact_resistance": (45.0, "uOhm"),
    "vacuum_integrity": (0.01, "Pa"),
    "relay_timing": (3.0, "s"),
    "dielectric_withstand": (27.0, ""),
}
SPELLINGS = {
    "GOhm": ("GOhm", "GΩ", "Gohms", " G ohm", "G\u2126"),
    "MOhm": ("MOhm", "MΩ", "MOHM"),
    "uOhm": ("uOhm", "µΩ", "\u03bcohm"),
    "s": ("s", "sec"),
    "ms": ("ms", "msec"),
    "Torr": ("Torr", "torr"),
    "Pa": ("Pa", "pa"),
}
ODD_TEXTS = (
    "",
    "  ",
    ">",
    "5,0",
    "1 000",
    "1_000",
    "\u0663",
    "-1",
    "-0",
    "1e31",
    "1e999",
    "5.",
    ".5",
    "+.5e+1",
    "5e",
    ">>5",
    "> 5",
    "\ufeff5.0\u200b",
    "\u00a0>\u20095\u00a0",
    "5\u00a0000",
    "\x1f5\x7f",
    "held",
    " broke_down",
    "no_trip",
    "Held",
    "nan",
    "inf",
    "constructor",
    "4.2 '",
    "５",
    "\u2212" + "5",
)
ODD_UNITS = (None, "", "V", "Ohm", "m", "M", "GΩ ", "hectare", "toString", "kohm")


def made_up_groups(seed: int, count: int) -> Iterator[list[dict[str, Any]]]:
    """Yield groups of items, most of them close to their limits, some of them odd."""
    source = random.Random(seed)
    rules = {
        name: [compile_rule(name, subject, load()).to_json() for subject in subjects]
        for name, subjects in SUBJECTS.items()
    }
    for _ in range(count):
        name = source.choice(list(rules))
        members = source.choice((1, 1, 2, 3)) if name == "contact_resistance" else 1
        yield [
            {"rule": source.choice(rules[name]), "reading": _reading(source, name)}
            for _ in range(members)
        ]


def _reading(source: random.Random, name: str) -> dict[str, Any]:
    procedure = PROCEDURES[name]
    value, unit = USUAL[name]
    outcome = source.random() < (0.9 if not procedure.units else 0.2)
    if outcome and procedure.outcomes:
        text, typed_unit = source.choice(tuple(procedure.outcomes)), None
    else:
        text, typed_unit = _number(source, value), _unit(source, unit)
    if source.random() < 0.04:
        text = source.choice(ODD_TEXTS)
    if source.random() < 0.04:
        typed_unit = source.choice((*ODD_UNITS, *procedure.units))
    return {
        "key": "made up",
        "text": text,
        "unit": typed_unit,
        "accuracy": _accuracy(source, unit),
        "conditions": _conditions(source),
    }


def _number(source: random.Random, usual: float) -> str:
    value = usual * source.choice((1.0, 1.0, 1.5, source.lognormvariate(0.0, 0.4)))
    if source.random() < 0.05:
        value *= 10.0 ** source.randint(-9, 9)
    sign = source.choices(("", ">", "<", "> "), (8, 1, 1, 1))[0]
    return sign + format(value, source.choice((".3g", ".4g", ".17g", ".2e", ".0f")))


def _unit(source: random.Random, unit: str) -> str:
    return source.choice(SPELLINGS.get(unit, (unit,)))


def _accuracy(source: random.Random, unit: str) -> dict[str, Any] | None:
    if source.random() < 0.5 or not unit:
        return None
    return {
        "pct": source.choice((0.0, 0.5, 1.0, 3.0, 5.0)),
        "fixed": source.choice((0.0, 0.02, 0.0005)),
        "unit": source.choice((None, unit)),
    }


def _conditions(source: random.Random) -> dict[str, Any]:
    conditions = {
        "temperature_c": source.choice(
            (20.0, 20, 31.5, round(source.uniform(-14.0, 114.0), 1))
        ),
        "humidity_pct": source.choice((55, 75.0, 0.0, 100, source.uniform(1.0, 101.0))),
        "test_kv": source.choice((1.0, 2.5, 5.0, 27.0, 28.35, 28.5, 37.5, 50.0, 52)),
        "supply": source.choice(("ac", "dc")),
        "method": source.choice(("ac", "dc", "magnetron")),
        "duration_s": source.choice((60.0, 60, 59.9, 61.25)),
        "test_current_a": source.choice((100.0, 200, 99.9)),
        "applied_a": source.choice(
            (100.0, 130.0, 200.0, 640, 12.5, round(source.uniform(50.0, 5000.0), 2))
        ),
        "measured_pickup_a": source.choice(
            (0, 97.0, 100.0, 103.5, 131, 1e-6, round(source.uniform(80.0, 120.0), 1))
        ),
    }
    known = {n: value for n, value in conditions.items() if source.random() < 0.96}
    return known | _said_beside(source)


def _said_beside(source: random.Random) -> dict[str, Any]:
    """Return what notes read beside the other conditions, each in a reading of four."""
    rows = {
        "timed": _row(source, (15, 30, 45, 60, 120, 600), 5.0),
        "steps": _row(source, (0.5, 1.0, 2.5, 5.0), 5.0),
        "leakage": _row(source, (10, 20, 30, 37.5), 4.0),
        "air_temperature_c": round(source.uniform(-50.0, 65.0), 1),
    }
    return {name: row for name, row in rows.items() if source.random() < 0.25}


def _row(source: random.Random, steps: tuple[float, ...], usual: float) -> str:
    taken = [step for step in steps if source.random() < 0.8]
    row = [f"{step}:{_number(source, usual).replace(' ', '')}" for step in taken]
    if source.random() < 0.05:
        row.append(
            source.choice(("60:5", "1:", ":3", "60;5", "60:5,1", "7:held", "60:-1"))
        )
    return source.choice((" ", "  ", "\u00a0")).join(row)


def made_up_numbers(seed: int, count: int) -> list[float]:
    """Return numbers of every size, many of them ties at some decimal digit."""
    source = random.Random(seed)
    ties = [
        source.randrange(1, 10**6) / 2.0 ** source.randrange(0, 12)
        for _ in range(count // 2)
    ]
    sizes = [
        source.uniform(-10.0, 10.0) * 10.0 ** source.uniform(-30.0, 30.0)
        for _ in range(count // 2)
    ]
    edges = [0.0, 9.9995, 9.9985, 99995.0, 12345.0, 1e-5, 9.9999e-6, 999.95, 1e29]
    return edges + ties + sizes
