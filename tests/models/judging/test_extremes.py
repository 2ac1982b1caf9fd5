"""Every finite number can be judged and put into words, however small or large."""

import math
from itertools import product

import pytest

from models.judging import Accuracy, Criteria, Judgement, Reading
from models.procedures import Subject, compile_rule, judge

SMALLEST, LARGEST = "5e-324", "9.99e29"
TEXTS = ("0", "-0", SMALLEST, f">{SMALLEST}", f"<{SMALLEST}", LARGEST, f"<{LARGEST}")
ACCURACIES = (
    None,
    Accuracy(5.0, 0.02),
    Accuracy(0.0, float(SMALLEST)),
    Accuracy(float(LARGEST), float(LARGEST)),
)
ROWS = f"30:{SMALLEST} 60:1e-322 600:{LARGEST}"


def assert_legible(judgement: Judgement) -> None:
    numbers = judgement.as_json()
    for name in ("value", "corrected", "limit_low", "limit_high", "uncertainty"):
        assert numbers[name] is None or math.isfinite(numbers[name])
    for sentence in judgement.working:
        assert "nan" not in sentence.split()
        assert "inf" not in sentence.split()


@pytest.mark.parametrize("humidity_pct", [float(SMALLEST), 1e-322, 100.0])
@pytest.mark.parametrize("row", [None, ROWS, f"0.5:{LARGEST} 60:0"])
def test_insulation(criteria: Criteria, humidity_pct: float, row: str | None) -> None:
    rule = compile_rule(
        "insulation_resistance", Subject(gear="metal_clad", rated_kv=15.0), criteria
    )
    conditions = {"temperature_c": 31.0, "test_kv": 2.5, "humidity_pct": humidity_pct}
    if row:
        conditions |= {"timed": row, "steps": row}
    for text, unit, accuracy in product(TEXTS, ("kOhm", "TOhm"), ACCURACIES):
        reading = Reading(
            key="a", text=text, unit=unit, accuracy=accuracy, conditions=conditions
        )
        assert_legible(judge([(rule, reading)])[0])


def test_leakage_of_a_current_that_no_instrument_shows(criteria: Criteria) -> None:
    subject = Subject(gear="metal_clad", rated_kv=15.0)
    rule = compile_rule("dielectric_withstand", subject, criteria)
    row = f"10:{SMALLEST} 20:{SMALLEST} 30:{LARGEST}"
    conditions = {"supply": "dc", "dc_consent": "book", "test_kv": 37.5}
    conditions |= {"duration_s": 60.0, "leakage": row}
    reading = Reading(key="a", text="held", conditions=conditions)
    assert_legible(judge([(rule, reading)])[0])


@pytest.mark.parametrize(("one", "other"), list(product(TEXTS, TEXTS)))
def test_poles(criteria: Criteria, one: str, other: str) -> None:
    rule = compile_rule("contact_resistance", Subject(), criteria)
    conditions = {"temperature_c": -234.0, "test_current_a": 100.0}
    for accuracy in ACCURACIES:
        readings = [
            Reading(
                key=text,
                text=text,
                unit="mOhm",
                accuracy=accuracy,
                conditions=conditions,
            )
            for text in (one, other)
        ]
        for judgement in judge([(rule, reading) for reading in readings]):
            assert_legible(judgement)


@pytest.mark.parametrize("applied_a", [float(SMALLEST), 200.0, float(LARGEST)])
@pytest.mark.parametrize("text", TEXTS)
def test_relays(criteria: Criteria, text: str, applied_a: float) -> None:
    for pickup_a, dial in product((float(SMALLEST), 100.0), (float(SMALLEST), 0.3)):
        subject = Subject(
            curve="iec_standard_inverse", pickup_a=pickup_a, time_dial=dial
        )
        rule = compile_rule("relay_timing", subject, criteria)
        conditions = {"applied_a": applied_a, "measured_pickup_a": float(LARGEST)}
        for accuracy in ACCURACIES:
            reading = Reading(
                key="a", text=text, unit="s", accuracy=accuracy, conditions=conditions
            )
            assert_legible(judge([(rule, reading)])[0])
