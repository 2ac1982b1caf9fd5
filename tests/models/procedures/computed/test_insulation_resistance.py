"""Insulation resistance: which minimum and test voltage, and what is unjudged."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from models.procedures.computed import insulation_resistance

W, X, U = Verdict.WITHIN, Verdict.OUTSIDE, Verdict.UNJUDGED

# Rated maximum voltage kV -> voltage class kV: the usual ratings by name, any other
# to the smallest class not below rating / 1.1 (common practice).
CLASSES = {
    4.76: 5,
    8.25: 8,
    15: 15,
    15.5: 15,
    25.8: 25,
    27: 25,
    38: 34.5,
    1.1: 1,
    3.6: 5,  # 3.27
    5.5: 5,  # 5.00 exactly
    5.51: 8,
    7.2: 8,  # 6.55
    12: 15,  # 10.9
    17.5: 25,  # 15.9
    24: 25,  # 21.8
    36: 34.5,  # 32.7
    40.5: 46,  # 36.8
    72.5: 46,  # the last row is "46 kV and above"
}


@pytest.mark.parametrize(
    ("rated_kv", "class_kv"), CLASSES.items(), ids=map(str, CLASSES)
)
def test_the_class_of_a_rating(
    criteria: Criteria, rated_kv: float, class_kv: float
) -> None:
    rows = criteria.table("insulation_minimum").rows
    row = insulation_resistance.class_row(rated_kv, rows)
    assert row["class_kv"] == class_kv


def verdict_of(
    criteria: Criteria, text: str, subject: Subject, **conditions: object
) -> Verdict:
    given = {"temperature_c": 20.0, "test_kv": 5.0} | conditions
    kept = {name: value for name, value in given.items() if value is not None}
    rule = compile_rule("insulation_resistance", subject, criteria)
    return judge([(rule, Reading(key="", text=text, unit="GOhm", conditions=kept))])[
        0
    ].verdict


KV15 = Subject(gear="metal_clad", rated_kv=15)

# 15 kV class: 5000 MOhm at 20 degC, at 2.5 kV dc (ANSI/NETA MTS-2019, Table 100.1).
VERDICTS: dict[str, tuple[str, Subject, dict[str, object], Verdict]] = {
    "at the minimum": ("5.00", KV15, {}, W),
    "below the minimum": ("4.99", KV15, {}, X),
    "over range above it": (">5", KV15, {}, W),
    "over range below it": (">2", KV15, {}, U),
    # Solid column at 30 degC: 1.58; 5000 / 1.58 = 3165 MOhm.
    "warm, above the minimum once corrected": (
        "3.17",
        KV15,
        {"temperature_c": 30.0},
        W,
    ),
    "warm, below it": ("3.16", KV15, {"temperature_c": 30.0}, X),
    # At 10 degC: 0.63; 5000 / 0.63 = 7937 MOhm.
    "cold, above the minimum as read only": ("7.9", KV15, {"temperature_c": 10.0}, X),
    "cold, above it": ("7.94", KV15, {"temperature_c": 10.0}, W),
    "at the coldest row": ("20", KV15, {"temperature_c": -10.0}, W),
    "below the coldest row": ("900", KV15, {"temperature_c": -10.1}, U),
    "at the warmest row": ("0.1", KV15, {"temperature_c": 110.0}, W),
    "above the warmest row": ("900", KV15, {"temperature_c": 110.1}, U),
    "temperature not known": ("900", KV15, {"temperature_c": None}, U),
    "test voltage of the table": ("6", KV15, {"test_kv": 2.5}, W),
    "test voltage too low": ("6", KV15, {"test_kv": 1.0}, U),
    "test voltage not known": ("6", KV15, {"test_kv": None}, U),
    "a failure at too low a voltage is no verdict either": (
        "0.001",
        KV15,
        {"test_kv": 1.0},
        U,
    ),
    "rating not known": ("900", Subject(gear="metal_clad"), {}, U),
    # Oil column at 30 degC: 1.98; 5000 / 1.98 = 2525 MOhm.
    "oil, above": (
        "2.53",
        Subject(rated_kv=15, insulation="oil"),
        {"temperature_c": 30.0},
        W,
    ),
    "oil, below": (
        "2.52",
        Subject(rated_kv=15, insulation="oil"),
        {"temperature_c": 30.0},
        X,
    ),
    "a maker's minimum above the table's": (
        "6",
        Subject(rated_kv=15, limit=7, limit_unit="GOhm"),
        {},
        X,
    ),
    "a maker's minimum below the table's": (
        "4",
        Subject(rated_kv=15, limit=3, limit_unit="GOhm"),
        {},
        W,
    ),
    "a maker's minimum in the base unit": (
        "4",
        Subject(rated_kv=15, limit=3000),
        {},
        W,
    ),
    "a maker's minimum, the test voltage still counts": (
        "4",
        Subject(rated_kv=15, limit=3000),
        {"test_kv": 1.0},
        U,
    ),
}


@pytest.mark.parametrize(
    ("text", "subject", "conditions", "verdict"), VERDICTS.values(), ids=VERDICTS
)
def test_verdict(
    criteria: Criteria,
    text: str,
    subject: Subject,
    conditions: dict[str, object],
    verdict: Verdict,
) -> None:
    assert verdict_of(criteria, text, subject, **conditions) is verdict


def test_the_older_print_is_another_edition(criteria: Criteria) -> None:
    """8 kV class: 2500 MOhm as printed in 2019, 2000 in the prints before 2010."""
    subject = Subject(rated_kv=8.25)
    newer = insulation_resistance.compile_rule(subject, criteria)
    older = insulation_resistance.compile_rule(
        subject, criteria, "insulation_minimum_older"
    )
    assert [newer.bounds[0]["value"], older.bounds[0]["value"]] == [2500, 2000]
    assert [newer.cite[0]["edition"], older.cite[0]["edition"]] == [
        "2019",
        "2003 to 2009 prints",
    ]


def test_the_column_is_from_memory_if_a_row_of_it_is(criteria: Criteria) -> None:
    for insulation in ("solid", "oil"):
        rule = compile_rule(
            "insulation_resistance",
            Subject(rated_kv=15, insulation=insulation),
            criteria,
        )
        assert rule.cite[rule.correction["cite"]]["provenance"] == "memory"


@pytest.mark.property
@given(a=st.floats(0.1, 80), b=st.floats(0.1, 80))
def test_higher_ratings_never_ask_for_less(
    criteria: Criteria, a: float, b: float
) -> None:
    low, high = (
        insulation_resistance.compile_rule(Subject(rated_kv=kv), criteria)
        for kv in sorted((a, b))
    )
    assert low.bounds[0]["value"] <= high.bounds[0]["value"]


# Nameplate, temperature, what a reading of 1 GOhm is at 20 degC, what the label says.
# By hand: half for each 10 K is 2^((T - 20) / 10): 2 at 30 degC, 0.25 at 0 degC; 1.58
# is the table's factor for solid insulation at 30 degC.
CORRECTED: dict[str, tuple[dict[str, object], float, float, str]] = {
    "the table's": ({}, 30.0, 1.58, "solid insulation"),
    "the maker's": ({"insulation_halves_k": 10.0}, 30.0, 2.0, "half for each 10 K"),
    "the maker's, in frost": (
        {"insulation_halves_k": 10.0},
        0.0,
        0.25,
        "by the maker",
    ),
    "a sealed tank": (
        {"gear": "gas_insulated"},
        30.0,
        1.58,
        "taken for the sealed tank: ask its maker",
    ),
    "a sealed tank whose insulation is stated": (
        {"gear": "gas_insulated", "insulation": "solid"},
        30.0,
        1.58,
        "solid insulation",
    ),
}


@pytest.mark.parametrize(
    ("plate", "at_c", "factor", "label"), CORRECTED.values(), ids=CORRECTED
)
def test_the_maker_s_correction_goes_first_and_what_is_assumed_is_said(
    criteria: Criteria, plate: dict[str, object], at_c: float, factor: float, label: str
) -> None:
    rule = compile_rule(
        "insulation_resistance", Subject(**({"rated_kv": 15} | plate)), criteria
    )
    conditions = {"temperature_c": at_c, "test_kv": 2.5}
    reading = Reading(key="", text="1", unit="GOhm", conditions=conditions)
    (found,) = judge([(rule, reading)])
    assert found.corrected == pytest.approx(1000 * factor, rel=1e-9)
    assert label in rule.correction["label"]
    assumed = "taken for" in rule.correction["label"]
    assert assumed == (label.startswith("taken for"))
