"""A rule in words: a sentence for each kind of bound, and one for any other."""

from typing import Any

import pytest

from models.criteria.rule_words import (
    correction_words,
    gate_words,
    limit_words,
    unjudged_words,
)
from models.judging import Rule
from models.judging.tables import Criteria
from models.procedures import Subject, compile_rule


def rule(**parts: Any) -> Rule:
    return Rule(procedure="made_up", unit="MOhm", **parts)


BOUNDS: dict[str, tuple[dict[str, Any], str]] = {
    "a minimum": ({"kind": "low", "value": 5000.0}, "at least 5.000 GΩ"),
    "a maximum": ({"kind": "high", "value": 5.0}, "at most 5.000 MΩ"),
    "the lowest": (
        {"kind": "high_of_lowest", "times": 1.5},
        "at most 1.5 times the lowest of its group",
    ),
    "a share of a condition": (
        {
            "kind": "near",
            "expected": {"on": "nominal_v", "times": 0.05, "label": "volts"},
            "fixed": 0,
            "below": False,
        },
        "at most 0.05 × the volts",
    ),
    "about a condition": (
        {"kind": "near", "expected": {"on": "reference_c"}, "pct": 5.0},
        "within 5 % of the reference thermometer",
    ),
    "behind the quickest, in its case": (
        {"kind": "over_lowest", "by": 5.0, "when": {"operation": "close"}},
        "close: at most 5.000 MΩ over the lowest of its group",
    ),
    "an outcome": (
        {"kind": "expected", "met": ["as_expected"], "missed": [], "if_fitted": True},
        "as expected, or not fitted",
    ),
    "a withstand, in its case": (
        {
            "kind": "withstand",
            "level_kv": 27.0,
            "hold_s": 60.0,
            "over_pct": 5.0,
            "when": {"supply": "ac"},
        },
        "ac: holds 27 kV for 60 s; not more than 5 % above it",
    ),
    "another kind": (
        {"kind": "share_of_best", "least_pct": 80.0, "of": 3, "cite": 0, "by": "pole"},
        "share of best: least pct 80, of 3",
    ),
}


@pytest.mark.parametrize(("bound", "said"), BOUNDS.values(), ids=BOUNDS)
def test_a_bound_says(bound: dict[str, Any], said: str) -> None:
    assert limit_words(bound, rule()) == said


def test_a_relay_s_band_says_curve_and_tolerance(criteria: Criteria) -> None:
    subject = Subject(curve="ieee_very_inverse", pickup_a=480.0, time_dial=2.0)
    timing = compile_rule("relay_timing", subject, criteria)
    assert limit_words(timing.bounds[0], timing) == (
        "operates on IEEE very inverse, within the greater of 5 % and 0.035 s"
    )


V260 = "applied voltage at most 260 V"
GATES: dict[str, tuple[dict[str, Any], str]] = {
    "at least": (
        {"on": "test_kv", "at_least": 2.5, "unit": "kV"},
        "test voltage at least 2.5 kV",
    ),
    "known": ({"on": "temperature_c", "known": True}, "temperature known"),
    "at most": ({"on": "applied_v", "at_most": 260.0, "unit": "V"}, V260),
    "both": (
        {"on": "applied_v", "at_least": 80.0, "at_most": 260.0, "unit": "V"},
        "applied voltage at least 80 V and at most 260 V",
    ),
    "one of": ({"on": "method", "one_of": ["ac", "dc"]}, "method ac or dc"),
    "of a condition without words": (
        {"on": "gas_kpa", "known": True, "when": {"supply": "dc"}},
        "dc: gas kpa known",
    ),
}


@pytest.mark.parametrize(("gate", "said"), GATES.values(), ids=GATES)
def test_a_gate_says(gate: dict[str, Any], said: str) -> None:
    assert gate_words(gate) == said


def test_a_reason_says_its_case() -> None:
    reason = {"when": {"method": "dc"}, "reason": "Nobody knows."}
    assert unjudged_words(reason) == "dc: Nobody knows."


CORRECTIONS: dict[str, tuple[dict[str, Any], str]] = {
    "none": ({"by": "none"}, ""),
    "of a metal": (
        {"by": "metal", "k": 234.5, "reference_c": 20.0, "label": "copper", "cite": 0},
        "corrected to 20 °C: copper",
    ),
}


@pytest.mark.parametrize(("correction", "said"), CORRECTIONS.values(), ids=CORRECTIONS)
def test_a_correction_says(correction: dict[str, Any], said: str) -> None:
    assert correction_words(rule(correction=correction)) == said
