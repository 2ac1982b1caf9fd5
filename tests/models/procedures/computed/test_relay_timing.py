"""Relay timing: the band about the curve, and what is no timing point."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from models.judging import Accuracy, Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge

W, M, X, U = Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE, Verdict.UNJUDGED

# IEC standard inverse, dial 0.1, twice pickup: 0.1 x 10.0290 = 1.00290 s; the band
# is 5 % (0.0501 s), which is more than 35 ms: 0.9528 to 1.0530 s.
IEC = Subject(curve="iec_standard_inverse", pickup_a=400, time_dial=0.1)
# Definite time 0.4 s: 5 % is 20 ms, so the band is 35 ms: 0.365 to 0.435 s.
DEFINITE = Subject(curve="definite_time", pickup_a=400, time_dial=0.4)
DECLARED = Subject(
    curve="definite_time",
    pickup_a=400,
    time_dial=0.4,
    tolerance_pct=10,
    tolerance_s=0.01,
)
HALF_DECLARED = Subject(
    curve="definite_time", pickup_a=400, time_dial=0.4, tolerance_s=0.01
)
TWICE = 800.0

VERDICTS: dict[str, tuple[str, Subject, float | None, Verdict]] = {
    "on the curve": ("1.003", IEC, TWICE, W),
    "as early as allowed": ("0.953", IEC, TWICE, W),
    "too early": ("0.952", IEC, TWICE, X),
    "as late as allowed": ("1.053", IEC, TWICE, W),
    "too late": ("1.054", IEC, TWICE, X),
    "in milliseconds": ("1003 ms", IEC, TWICE, W),
    "did not operate": ("no_trip", IEC, TWICE, X),
    "not yet, when the test was ended late": (">2", IEC, TWICE, X),
    "not yet, when the test was ended early": (">1", IEC, TWICE, U),
    "floor of 35 ms, early edge": ("0.365", DEFINITE, TWICE, W),
    "floor of 35 ms, beyond": ("0.364", DEFINITE, TWICE, X),
    "floor of 35 ms, late edge": ("0.435", DEFINITE, TWICE, W),
    "declared 10 %": ("0.44", DECLARED, TWICE, W),
    "beyond declared 10 %": ("0.441", DECLARED, TWICE, X),
    # Declared 10 ms, the percentage not: the greater of 10 ms and 5 % (20 ms).
    "half declared": ("0.42", HALF_DECLARED, TWICE, W),
    "beyond half declared": ("0.421", HALF_DECLARED, TWICE, X),
    "at pickup, did not operate": ("no_trip", IEC, 400.0, W),
    "at pickup, operated": ("5", IEC, 400.0, X),
    "below pickup, did not operate": ("no_trip", IEC, 360.0, W),
    "below pickup, operated": ("5", IEC, 360.0, X),
    "below pickup, not yet": (">60", IEC, 360.0, U),
    "no current": ("no_trip", IEC, 0.0, W),
    "1.05 times is no timing point": ("14", IEC, 420.0, U),
    "1.05 times, did not operate": ("no_trip", IEC, 420.0, U),
    "1.29 times is none": ("2.7", IEC, 516.0, U),
    # 1.3 times: 0.1 x 26.6105 = 2.661 s.
    "1.3 times is one": ("2.66", IEC, 520.0, W),
    "current not known": ("1.003", IEC, None, U),
    "curve not known": ("1", Subject(pickup_a=400, time_dial=1), TWICE, U),
    "pickup not known": (
        "1",
        Subject(curve="iec_very_inverse", time_dial=1),
        TWICE,
        U,
    ),
    "dial not known": ("1", Subject(curve="iec_very_inverse", pickup_a=400), TWICE, U),
}


@pytest.mark.parametrize(
    ("shown", "subject", "applied_a", "verdict"), VERDICTS.values(), ids=VERDICTS
)
def test_verdict(
    criteria: Criteria,
    shown: str,
    subject: Subject,
    applied_a: float | None,
    verdict: Verdict,
) -> None:
    text, _, unit = shown.partition(" ")
    conditions = {} if applied_a is None else {"applied_a": applied_a}
    rule = compile_rule("relay_timing", subject, criteria)
    reading = Reading(key="", text=text, unit=unit or "s", conditions=conditions)
    assert judge([(rule, reading)])[0].verdict is verdict


def test_the_band_is_guarded_by_the_timer_s_uncertainty(criteria: Criteria) -> None:
    """10 ms as a half-width: U = 11.5 ms, so 1.045 s is too near 1.053 s to tell."""
    rule = compile_rule("relay_timing", IEC, criteria)
    reading = Reading(
        key="",
        text="1.045",
        unit="s",
        accuracy=Accuracy(fixed=0.010),
        conditions={"applied_a": TWICE},
    )
    assert judge([(rule, reading)])[0].verdict is M


# A rule that was stored before its settings were checked must not stop a card.
STORED: dict[str, tuple[dict[str, float], str]] = {
    "pickup zero": ({"pickup_a": 0.0}, "The pickup is not above zero."),
    "pickup below zero": ({"pickup_a": -400.0}, "The pickup is not above zero."),
    "dial zero": ({"time_dial": 0.0}, "The time dial is not above zero."),
    "both": (
        {"pickup_a": 0.0, "time_dial": 0.0},
        "The pickup is not above zero. The time dial is not above zero.",
    ),
    "a multiple that overflows": (
        {"pickup_a": 5e-324},
        "800 A is out of all proportion to the pickup 4.940656458e-324 A: check both.",
    ),
    "a power that overflows": (
        {"pickup_a": 1e-200},
        "800 A is out of all proportion to the pickup 1e-200 A: check both.",
    ),
    "a dial that overflows": (
        {"time_dial": 1e308},
        "The time dial is out of all proportion.",
    ),
}


@pytest.mark.parametrize(("settings", "reason"), STORED.values(), ids=STORED)
@pytest.mark.parametrize("text", ["1.003", ">1", "no_trip"])
def test_a_stored_rule_with_impossible_settings_is_not_judged(
    criteria: Criteria, settings: dict[str, float], reason: str, text: str
) -> None:
    whole = compile_rule("relay_timing", IEC, criteria)
    rule = replace(whole, bounds=[{**whole.bounds[0], **settings}])
    reading = Reading(key="", text=text, unit="s", conditions={"applied_a": TWICE})
    found = judge([(rule, reading)])[0]
    assert (found.verdict, found.reason) == (U, reason)


@pytest.mark.property
@given(
    read=st.floats(0, 0.2),
    half_width=st.floats(0, 0.2),
    dial=st.floats(0.001, 0.035),
)
def test_where_the_band_begins_at_nothing_only_the_latest_counts(
    criteria: Criteria, read: float, half_width: float, dial: float
) -> None:
    """With U = 1.1547 half-widths against a latest of dial + 35 ms."""
    subject = Subject(curve="definite_time", pickup_a=400, time_dial=dial)
    reading = Reading(
        key="",
        text=repr(read),
        unit="s",
        accuracy=Accuracy(fixed=half_width),
        conditions={"applied_a": TWICE},
    )
    found = judge([(compile_rule("relay_timing", subject, criteria), reading)])[0]
    beyond = read - (dial + 0.035)
    expanded = 2 * half_width / math.sqrt(3)
    assume(not math.isclose(abs(beyond), expanded, rel_tol=1e-6, abs_tol=1e-9))
    guarded = M if abs(beyond) < expanded else W
    assert found.verdict is (X if beyond > expanded else guarded)


def test_the_rule_carries_the_constants_and_not_only_the_name(
    criteria: Criteria,
) -> None:
    rule = compile_rule("relay_timing", IEC, criteria)
    curve = rule.bounds[0]["curve"]
    assert (curve["a"], curve["b"], curve["p"]) == (0.14, 0.0, 0.02)


def test_the_working_shows_equation_band_and_sources(criteria: Criteria) -> None:
    rule = compile_rule("relay_timing", IEC, criteria)
    reading = Reading(key="", text="1", unit="s", conditions={"applied_a": TWICE})
    found = judge([(rule, reading)])[0]
    said = "\n".join(found.working)
    assert "800 A / 400 A = 2.000000" in said
    assert "0.1 × 0.14 / (2.000000^0.02 − 1) = 1.003 s" in said
    assert "the greater of 5 %" in said
    assert [cite["provenance"] for cite in found.cite] == ["published", "practice"]


def test_a_declared_tolerance_is_the_maker_s(criteria: Criteria) -> None:
    rule = compile_rule("relay_timing", DECLARED, criteria)
    assert rule.cite[rule.bounds[0]["tolerance_cite"]]["provenance"] == "maker"
