"""Made-up rules with readings, by which the readers of a rule are compared."""

import math
import random
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from models.fields import field
from models.judging.quantities import convert, convert_difference
from models.judging.timing_band import band_at
from models.judging.timing_base import applied_to, reach, setting_of
from models.procedures import PROCEDURES
from tests.data.made_up_near import near_a_case
from tests.data.made_up_rows import rows_of_a_reading
from tests.data.made_up_rules import USUAL, RuleJson, made_up_rule
from tests.data.made_up_texts import ODD_TEXTS, ODD_UNITS, SPELLINGS

PER_RULE = 40  # groups, on the average
NEAR_A_CASE = 0.5  # of the groups
BORDERS = (1.3, 2.0, 5.0, 10.0, 20.0)  # multiples at which a curve or a band changes


def made_up_groups(seed: int, count: int) -> Iterator[list[dict[str, Any]]]:
    """Yield groups of items, most of them close to their limits, some of them odd.

    Half are close to golden cases, which give each verdict that there is. Of the others
    most share one rule object, some have a rule for each reading.
    """
    source = random.Random(seed)
    rules = {
        name: [
            made_up_rule(source, name)
            for _ in range(max(2, count // PER_RULE // len(PROCEDURES)))
        ]
        for name in PROCEDURES
    }
    for _ in range(count):
        name = source.choice(list(rules))
        if source.random() < NEAR_A_CASE:
            yield near_a_case(source, name)
            continue
        members = source.choice((1, 2, 3, 4)) if PROCEDURES[name].compared else 1
        shared = source.choice(rules[name])
        mixed = source.random() < 0.1
        yield [
            _item(source, source.choice(rules[name]) if mixed else shared)
            for _ in range(members)
        ]


def _item(source: random.Random, rule: RuleJson) -> dict[str, Any]:
    conditions = _conditions(source, rule)
    return {"rule": rule, "reading": _reading(source, rule, conditions)}


def _reading(
    source: random.Random, rule: RuleJson, conditions: dict[str, Any]
) -> dict[str, Any]:
    procedure = PROCEDURES[rule["procedure"]]
    outcome = source.random() < (0.2 if procedure.units else 0.95)
    value, unit = _value(source, rule, conditions)
    if outcome and procedure.outcomes:
        text, typed_unit = source.choice(tuple(procedure.outcomes)), None
    else:
        text = _number(source, value)
        typed_unit = source.choice(SPELLINGS.get(unit, (unit,)))
    if source.random() < 0.01:
        text = source.choice(ODD_TEXTS)
    if source.random() < 0.01:
        typed_unit = source.choice((*ODD_UNITS, *procedure.units))
    return {
        "key": "made up",
        "text": text,
        "unit": typed_unit,
        "accuracy": _accuracy(source, value, unit, procedure.units),
        "conditions": conditions,
    }


def _value(
    source: random.Random, rule: RuleJson, conditions: dict[str, Any]
) -> tuple[float, str]:
    """Return a value that is worth comparing with the rule's limits, and its unit."""
    units = PROCEDURES[rule["procedure"]].units
    if not units:
        return 27.0, ""
    aim = source.choice(_aims(rule, conditions) or [USUAL[rule["procedure"]]])
    unit = source.choice((*units, *units[:1] * 3))
    spread = source.choice((1.0, 1.0, 1.01, source.lognormvariate(0.0, 0.15)))
    if source.random() < 0.05:
        spread *= 10.0 ** source.randint(-9, 9)
    return convert(aim * spread, rule["unit"], unit), unit


def _aims(rule: RuleJson, conditions: dict[str, Any]) -> list[float]:
    """Return the limits that a reading may meet or miss, in the rule's unit."""
    aims: list[float] = []
    for bound in rule["bounds"]:
        if bound["kind"] in ("low", "high"):
            aims.append(bound["value"])
        elif bound["kind"] == "operating_time" and conditions.get(applied_to(bound)):
            applied = conditions[applied_to(bound)]
            band = band_at(bound, reach(bound, applied / bound[setting_of(bound)]))
            times = (band.low, band.expected, band.high) if band else ()
            aims += filter(math.isfinite, times)
    return aims


def _number(source: random.Random, value: float) -> str:
    sign = source.choices(("", ">", "<", "> "), (8, 1, 1, 1))[0]
    return sign + format(value, source.choice((".3g", ".6g", ".17g", ".2e", ".0f")))


def _accuracy(
    source: random.Random, value: float, unit: str, units: Sequence[str]
) -> dict[str, Any] | None:
    if source.random() < 0.3 or not unit:
        return None
    stated = source.choice((None, unit, *units))
    fixed = source.choice((0.0, 0.001, 0.02)) * abs(value)
    if source.random() < 0.3:
        return {"ranges": _ranges(source, value, unit, stated)}
    return {
        "pct": source.choice((0.0, 0.5, 1.0, 3.0, 5.0)),
        "fixed": convert_difference(fixed, unit, stated or unit),
        "unit": stated,
    }


def _ranges(
    source: random.Random, value: float, unit: str, stated: str | None
) -> list[dict[str, Any]]:
    """Return ranges about a value, some of which end at it or leave it out."""
    steps = (0.0, *sorted(source.choice(((0.1, 1, 10), (0.5, 2), (1,), (0.2, 0.5)))))
    ends = [
        convert_difference(abs(value) * step, unit, stated or unit) for step in steps
    ]
    return [
        {
            "low": low,
            "high": high,
            "unit": stated,
            "pct": source.choice((0.0, 1.0, 5.0)),
            "pct_range": source.choice((0.0, 0.0, 0.5)),
            "digits": source.choice((0.0, 3.0)),
            "resolution": high / 1000,
            "fixed": source.choice((0.0, high / 100)),
        }
        for low, high in pairwise(ends)
        if low < high
    ]


def _conditions(source: random.Random, rule: RuleJson) -> dict[str, Any]:
    levels = [b["level_kv"] for b in rule["bounds"] if b["kind"] == "withstand"]
    pickup = next((b["pickup_a"] for b in rule["bounds"] if "pickup_a" in b), 100.0)
    volts = next((b["pickup_v"] for b in rule["bounds"] if "pickup_v" in b), 110.0)
    multiple = source.choice(
        (0.9, 1.0, 1.1, *[1.3 + source.expovariate(0.2)] * 5, *BORDERS)
    )
    conditions = {
        "temperature_c": source.choice(
            (20.0, 20, 20.0, 31.5, round(source.uniform(-22.0, 122.0), 1))
        ),
        "humidity_pct": source.choice((55, 75.0, 0.0, 100, source.uniform(1.0, 101.0))),
        "test_kv": source.choice((1.0, 5.0, 5.0, *levels * 3))
        * source.choice((1.0, 1.0, 1.03, 1.06)),
        "supply": source.choice(("ac", "dc")),
        "coil": source.choice(field("coil").choices),
        "measure": source.choice(field("measure").choices),
        "operation": source.choice(("close", "close", "open", "bounce", "close_open")),
        "method": source.choice(("ac", "dc", "magnetron")),
        "duration_s": source.choice((60.0, 60, 60.0, 59.9, 61.25)),
        "test_current_a": source.choice((100.0, 100.0, 200, 150.0, 99.9)),
        "element": source.choice(("51", "50", "51n", "50n")),
        "boundary": source.choice(("plus_90", "minus_90")),
        "relay_edge": source.choice(("pickup", "drop_out")),
        "timed_as": source.choice(field("timed_as").choices),
        "arc_test": source.choice(field("arc_test").choices),
        "injection": source.choice(("primary", "secondary")),
        "injected_a": source.choice((100.0, source.uniform(200.0, 400.0))),
        "injected_v": source.choice((66.0, 66.4)),
        "measured_at": source.choice(("device", "primary_side")),
        "measured_pickup_v": source.uniform(60.0, 100.0),
        "breaker_s": source.choice((0.0, 0.045)),
        "arcing_s": source.choice((0.0, 0.008)),
        "clearing_s": source.choice((0.1, 0.5)),
        "applied_v": source.choice((0.0, volts * source.uniform(0.5, 1.7))),
        "restraint_pu": source.choice((0.1, 2.0, source.uniform(0.0, 9.0), 51.0)),
        "differential_test": source.choice(("characteristic", "through_fault")),
        "applied_a": source.choice((12.5, *[pickup * multiple] * 9)),
        "measured_pickup_a": source.choice(
            (0, 1e-6, 131, *[pickup * source.uniform(0.9, 1.1)] * 5)
        ),
    }
    for element in ("inst", "ground", "ground_inst"):
        conditions[f"measured_{element}_pickup_a"] = conditions["measured_pickup_a"]
    conditions |= _chosen(source, rule)
    if rule["procedure"].startswith("gas_"):
        conditions |= _of_gas(source)
    known = {n: value for n, value in conditions.items() if source.random() < 0.97}
    return known | _said_beside(source) | rows_of_a_reading(source)


def _of_gas(source: random.Random) -> dict[str, Any]:
    return {
        "temperature_c": source.choice((20.0, 31.0, 9.5, -28.0)),
        "pressure_as": source.choice(("gauge", "gauge", "absolute", "sealed_gauge")),
        "air_pressure_kpa": source.choice((101.3, 99.2, 99.2, 84.0)),
        "waited_h": source.choice((48.0, 48.0, 1.0)),
        "temperature_accuracy_c": source.choice((0.5, 0.1)),
        "first_kpa": source.choice((46.0, 50.0, 151.2)),
        "first_air_kpa": 99.2,
        "first_c": source.choice((22.0, 20.0)),
        "elapsed_h": source.choice((720.0, 8766.0, 90000.0)),
        "sample_kpa": source.choice((101.325, 150.0)),
        "contact": source.choice(("alarm", "lockout")),
        "gas_part": source.choice(("sf6", "air_cf4")),
        "gas_way": source.choice(("in", "out")),
    }


def _chosen(source: random.Random, rule: RuleJson) -> dict[str, Any]:
    """Return what the parts of the rule choose by: one of their values each."""
    parts = [*rule["gates"], *rule["bounds"], *rule["unjudged"]]
    found: dict[str, list[Any]] = {}
    for part in parts:
        for name, value in part.get("when", {}).items():
            found.setdefault(name, []).append(value)
        if "one_of" in part:
            found.setdefault(part["on"], []).extend(part["one_of"])
    return {name: source.choice(values) for name, values in found.items() if values}


def _said_beside(source: random.Random) -> dict[str, Any]:
    """Return what notes read beside the other conditions, each in a reading of four."""
    rows = {
        "timed": _row(source, (15, 30, 45, 60, 120, 600), 5.0),
        "steps": _row(source, (0.5, 1.0, 2.5, 5.0), 5.0),
        "leakage": _row(source, (10, 20, 30, 37.5), 4.0),
        "coil_record": _row(source, (0, 4, 8, 11, 14, 18, 26, 30), 4.0),
        "mark_latch_ms": source.choice((10.5, 11)),
        "travel": _row(source, (0, 10, 14, 18, 21, 24, 30), 8.0),
        "air_temperature_c": round(source.uniform(-50.0, 65.0), 1),
    }
    return {name: row for name, row in rows.items() if source.random() < 0.25}


def _row(source: random.Random, steps: tuple[float, ...], usual: float) -> str:
    taken = [step for step in steps if source.random() < 0.8]
    values = [usual * source.lognormvariate(0.0, 0.4) for _ in taken]
    row = [
        f"{step}:{_number(source, value).replace(' ', '')}"
        for step, value in zip(taken, values, strict=True)
    ]
    if source.random() < 0.05:
        row.append(
            source.choice(("60:5", "1:", ":3", "60;5", "60:5,1", "7:held", "60:-1"))
        )
    return source.choice((" ", "  ", "\u00a0")).join(row)
