"""Made-up gas readings: pressures along constant density, leak rates, moisture.

As `made_up_words`: groups of a procedure, a rule and a reading, alike at every run with
the same seed. Some lie beyond what the equation is held to, some lack what they need.
"""

import json
import random
from collections.abc import Iterator, Mapping
from typing import Any

from models.judging import Rule
from tests.data.word_case import CITE

Item = dict[str, Any]
PRESSURE = {
    "name": "pressure",
    "title": "Pressure",
    "units": ["kPa", "bar", "psi"],
    "outcomes": [],
    "signed": False,
}
FROST = {**PRESSURE, "name": "frost", "units": ["degC", "degF"], "signed": True}
PPMV = {**PRESSURE, "name": "ppmv", "units": ["ppmv"]}
# Beattie-Bridgeman numbers as anybody could make them up, and an ideal gas.
DENSE = {"r": 56.927, "a0": 74.9, "a": 0.000727, "b0": 0.00251, "b": 0.000846}
IDEAL = {"r": 287.12, "a0": 0.0, "a": 0.0, "b0": 0.0, "b": 0.0}
SATURATION = [[-40.0, 340.8], [-30.0, 492.4], [-20.0, 689.4], [20.0, 2097.7]]
ICE = {"a": 22.46, "b_c": 272.62, "e0_pa": 611.2, "from_c": -80.0, "to_c": 20.0}
GAUGE = {"pressure_as": "gauge"}
ABSOLUTE = {
    "name": "absolute",
    "op": "plus",
    "by": {"on": "air_pressure_kpa", "unit": "kPa"},
    "when": GAUGE,
    "unit": "kPa",
    "label": "absolute pressure",
}
FIRST = {**ABSOLUTE, "name": "first", "of": "first_kpa"}
RATE = {
    "name": "rate",
    "op": "rate",
    "after": True,
    "first_c": "first_c",
    "over_h": "elapsed_h",
    "year_h": 8766.0,
    "unit": "%/year",
    "label": "leak rate",
}


def made_up_gas(seed: int, count: int) -> Iterator[tuple[dict[str, Any], list[Item]]]:
    """Yield so many groups of one reading, each with its procedure."""
    source = random.Random(seed)
    for _ in range(count):
        yield source.choice((_pressure, _leak, _moisture))(source)


def _grouped(
    procedure: dict[str, Any], rule: Rule, reading: dict[str, Any]
) -> tuple[dict[str, Any], list[Item]]:
    plain: dict[str, Any] = json.loads(json.dumps(rule.to_json()))
    return procedure, [{"rule": plain, "reading": reading}]


def _reading(
    source: random.Random, value: float, unit: str, conditions: Mapping[str, Any]
) -> dict[str, Any]:
    sign = source.choices(("", ">", "<"), (10, 1, 1))[0]
    known = {name: one for name, one in conditions.items() if source.random() < 0.95}
    pct = {"pct": source.choice((0.0, 0.2)), "fixed": 0.25, "unit": None}
    u = {"sample_kpa": {**pct, "fixed": 1.0}, "first_kpa": pct, "temperature_c": pct}
    accuracy = source.choice((None, pct, pct, {**pct, "unit": unit, "fixed": 0.01}))
    return {
        "key": "made up",
        "text": sign + format(value, source.choice((".4g", ".7g"))),
        "unit": unit,
        "accuracy": accuracy,
        "conditions": known,
        "conditions_accuracy": {n: a for n, a in u.items() if source.random() < 0.2},
    }


def _correction(source: random.Random, of: str | None) -> dict[str, Any]:
    gas = source.choice((DENSE, DENSE, IDEAL))
    more: dict[str, Any] = {"saturation": SATURATION} if gas is DENSE else {}
    if of is not None:
        more["of"] = of
    ends = {"from_c": -30.0, "to_c": 60.0, "densest": 50.0, "reference_c": 20.0}
    return {"by": "isochor", "label": "gas", "cite": 0, **gas, **ends, **more} | {
        "thermometer": "temperature_accuracy_c"
    }


def _state(source: random.Random) -> dict[str, Any]:
    """Return a temperature and an air pressure, beyond the ends now and then."""
    return {
        "temperature_c": source.choice((-31.0, -30.0, -12.5, 15.0, 20.0, 60.0, 61.0)),
        "pressure_as": source.choice(("gauge", "absolute")),
        "air_pressure_kpa": 99.2,
        "temperature_accuracy_c": source.choice((0.0, 0.5)),
    }


def _typed(source: random.Random, kpa: float) -> tuple[float, str]:
    unit = source.choice(("kPa", "kPa", "bar", "psi"))
    return kpa / {"kPa": 1.0, "bar": 100.0, "psi": 6.894757293168361}[unit], unit


def _pressure(source: random.Random) -> tuple[dict[str, Any], list[Item]]:
    derived = source.random() < 0.7
    kpa = source.choice((0.0, 40.0, 140.0, 150.0, 480.0, 495.0, 700.0, 2500.0))
    rule = Rule(
        procedure="pressure",
        unit="kPa",
        correction=_correction(source, "absolute" if derived else None),
        derive=[ABSOLUTE] if derived else [],
        bounds=[
            {"kind": source.choice(("low", "high")), "value": 150.0, "cite": 0},
            *source.choice(([], [{"kind": "low", "value": 0.3, "resolve": True}])),
        ],
        decision=source.choice(("guarded", "guarded", "simple")),
        cite=[CITE],
    )
    value, unit = _typed(source, kpa)
    return _grouped(PRESSURE, rule, _reading(source, value, unit, _state(source)))


def _leak(source: random.Random) -> tuple[dict[str, Any], list[Item]]:
    gauge = source.choice(({}, {"gauge": "first_kpa"}))
    rule = Rule(
        procedure="pressure",
        unit="kPa",
        correction=_correction(source, "absolute"),
        derive=[ABSOLUTE, FIRST, {**RATE, "first": "first", **gauge}],
        bounds=[
            {
                "kind": source.choice(("high", "high", "low")),
                "of": "rate",
                "value": source.choice((0.1, 2.0, 5.0, -1.0)),
                "resolve": source.random() < 0.7,
                "cite": 0,
            }
        ],
        notes=[{"say": "wait_time", "of": "rate", "rates": [0.1, 0.5]}],
        decision=source.choice(("guarded", "guarded", "guarded", "simple")),
        cite=[CITE],
    )
    conditions = _state(source) | {
        "first_kpa": source.choice((148.0, 150.0, 151.0)),
        "first_c": source.choice((-35.0, 18.0, 22.0)),
        "elapsed_h": source.choice((0.0, 720.0, 8766.0, 90000.0)),
    }
    value, unit = _typed(source, source.choice((140.0, 148.0, 149.0, 150.0)))
    return _grouped(PRESSURE, rule, _reading(source, value, unit, conditions))


def _moisture(source: random.Random) -> tuple[dict[str, Any], list[Item]]:
    procedure = source.choice((FROST, PPMV, PRESSURE))
    form = {"frost": "frost_point", "ppmv": "ppmv", "pressure": "pa"}
    came, unit = form[procedure["name"]], procedure["units"][0]
    unit = "Pa" if procedure is PRESSURE else unit
    to = source.choice(("frost_point", "frost_point", "ppmv", "pa"))
    part = {"name": "moist", "op": "vapour", "from": came, "to": to, **ICE}
    more: dict[str, Any] = source.choice(({"to_kpa": 150.0}, {"to_kpa": 500.0}))
    limit = {"frost_point": -20.0, "ppmv": 700.0, "pa": 100.0}[to]
    rule = Rule(
        procedure=procedure["name"],
        unit=unit,
        signed=procedure["signed"],
        derive=[{**part, **more, "at": "sample_kpa"}],
        bounds=[{"kind": "high", "of": "moist", "value": limit, "cite": 0}],
        decision=source.choice(("guarded", "guarded", "simple")),
        cite=[CITE],
    )
    usual = {"frost": -30.0, "ppmv": 700.0, "pressure": 0.1}[procedure["name"]]
    value = usual * source.choice((0.0, 0.5, 1.0, 1.2, 3.0, -1.0, 1e9))
    if not procedure["signed"]:
        value = abs(value)
    typed = {"pressure": "kPa"}.get(procedure["name"], unit)
    conditions = {"sample_kpa": source.choice((0.0, 101.325, 150.0))}
    return _grouped(procedure, rule, _reading(source, value, typed, conditions))
