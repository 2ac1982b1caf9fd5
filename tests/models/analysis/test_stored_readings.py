"""Stored readings in columns: what their instruments could show, and how accurately."""

from typing import Any
from uuid import UUID

from models.analysis.stored_readings import StoredReading, judge_stored
from models.criteria import load
from models.judging.batch import VERDICT_CODES
from models.procedures import Subject, compile_rule

RULE = compile_rule(
    "insulation_resistance", Subject(gear="metal_clad", rated_kv=15.0), load()
)
RANGES = {
    "ranges": [
        {"low": 0, "high": 10, "unit": "GOhm", "pct": 5, "fixed": 0.02},
        {"low": 10, "high": 100, "unit": "GOhm", "pct": 10, "pct_range": 2},
    ]
}


def stored(value: float, **more: Any) -> StoredReading:
    """Return a reading in GOhm at 20 degC; *more* goes before what is usual."""
    conditions = {"temperature_c": 20.0, "test_kv": 2.5, **more.pop("conditions", {})}
    given: dict[str, Any] = {
        "id": UUID(int=1),
        "card_id": UUID(int=2),
        "point_id": UUID(int=3),
        "group": "A-G",
        "text": str(value),
        "unit": "GOhm",
        "low": value,
        "high": value,
        "outcome": None,
        "conditions": conditions,
        "accuracy": {},
        "calibrated": True,
        "rule": "",
        "seq": 1,
        "verdict": "within",
        "limit_low": None,
        "limit_high": None,
    }
    return StoredReading(**given | more)


def verdicts(*rows: StoredReading) -> list[str]:
    return [str(VERDICT_CODES[code]) for code in judge_stored(RULE, rows).verdict]


def test_what_an_instrument_cannot_have_shown_is_withheld() -> None:
    beyond = {"instrument_limit": "reading"}
    assert verdicts(
        stored(9.0),
        stored(9.0, conditions=beyond),
        stored(1.0, conditions=beyond),
        stored(9.0, calibrated=False),
    ) == ["within", "unjudged", "outside", "unjudged"]


def test_the_accuracy_is_that_of_the_range_of_each_value() -> None:
    """U = 1.1547 a: 5.2 GOhm has a = 0.28, 12 GOhm a = 3.2 and 120 GOhm none."""
    rows = [stored(v, accuracy=RANGES) for v in (5.2, 12.0, 120.0, 1.0)]
    flat = stored(5.2, accuracy={"pct": 1, "fixed": 0, "unit": None})
    judged = judge_stored(RULE, [*rows, flat, stored(5.2)])
    found = [str(VERDICT_CODES[code]) for code in judged.verdict]
    assert found == [
        *("marginal", "within", "unjudged", "outside", "within", "within"),
    ]
    assert [round(u, 1) for u in judged.uncertainty[[0, 1, 4]].tolist()] == [
        *(323.3, 3695.0, 60.0),
    ]
