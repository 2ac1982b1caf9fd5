"""Options of an operating time: numbers by hand, laws, two readers, words."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.criteria import load
from models.errors import CriteriaError
from models.judging import Accuracy, Reading, Rule
from models.judging.batch import VERDICT_CODES, judge_columns
from models.judging.timing_band import band_at
from models.judging.timing_options import MEASURED, SETTING
from models.procedures import Subject, compile_rule, judge
from tests.data.cases_relay import STANDARD
from tests.data.cases_relay_options import BY_5_AND_1, CASES, CLASS_5
from tests.data.columns import columns_of
from tests.data.golden_case import Case, disagreements
from tests.data.golden_cases import items_of, judge_items
from tests.laws import costly

NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_what_a_hand_worked_out(case: Case) -> None:
    judged = judge_items(items_of(case))
    pairs = zip(case.by_hand, judged, strict=True)
    assert [line for pair in pairs for line in disagreements(*pair)] == []


def test_every_option_is_a_word_of_version_2() -> None:
    versions = {item["rule"]["v"] for case in CASES for item in items_of(case)}
    assert 2 in versions
    plain = compile_rule("relay_timing", STANDARD, load())
    stored = {**plain.to_json(), "v": 1}
    stored["bounds"] = [{**stored["bounds"][0], "ceiling_multiple": 20.0}]
    with pytest.raises(CriteriaError, match="later"):
        Rule.from_json(stored)


IMPOSSIBLE: dict[str, tuple[dict[str, Any], str]] = {
    "an error of a half": ({"pickup_error_pct": 50.0}, "out of all proportion"),
    "an error that is no number": ({"current_error_pct": "1"}, "no number"),
    "a ceiling below the start": ({"ceiling_multiple": 1.0}, "lies below"),
    "another word": ({"against": "the weather"}, "nothing to judge against"),
}


@pytest.mark.parametrize(("options", "said"), IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_a_stored_rule_with_an_impossible_option_is_refused(
    options: dict[str, Any], said: str
) -> None:
    stored = compile_rule("relay_timing", BY_5_AND_1, load()).to_json()
    stored["bounds"] = [{**stored["bounds"][0], **options}]
    with pytest.raises(CriteriaError, match=said):
        Rule.from_json(stored)


subjects = st.builds(
    Subject,
    curve=st.sampled_from(
        ["iec_standard_inverse", "iec_extremely_inverse", "ieee_very_inverse"]
    ),
    pickup_a=st.just(100.0),
    time_dial=st.floats(0.05, 5.0),
    tolerance_pct=st.sampled_from([None, 3.0, 5.0, 7.5]),
    tolerance_s=st.sampled_from([None, 0.0, 0.02]),
    bands=st.sampled_from([None, "iec_60255_151"]),
    ceiling_multiple=st.sampled_from([None, 10.0, 20.0]),
    minimum_time_s=st.sampled_from([None, 0.0, 0.05, 0.6]),
    pickup_error_pct=st.sampled_from([None, 0.0, 3.0, 5.0, 40.0]),
    current_error_pct=st.sampled_from([None, 0.5, 1.0]),
    timed_against=st.sampled_from([None, SETTING, MEASURED]),
)
texts = st.one_of(
    st.just("no_trip"),
    st.floats(0.01, 60.0).map(lambda seconds: f"{seconds:.4g}"),
    st.floats(0.01, 60.0).map(lambda seconds: f">{seconds:.3g}"),
    st.floats(0.01, 60.0).map(lambda seconds: f"<{seconds:.3g}"),
)


def reading(text: str, applied_a: float, **more: Any) -> Reading:
    return Reading(
        key="r",
        text=text,
        unit=None if text == "no_trip" else "s",
        accuracy=more.pop("accuracy", None),
        conditions={"applied_a": applied_a, **more},
    )


@pytest.mark.property
@costly(400, house=80)
@given(
    subject=subjects,
    text=texts,
    applied_a=st.one_of(
        st.sampled_from([100.0, 130.0, 200.0, 500.0, 1000.0, 2000.0]),
        st.floats(50.0, 5000.0),
    ),
    measured_a=st.sampled_from([None, 0.0, 97.0, 100.0, 104.0]),
    pct=st.sampled_from([None, 0.5]),
)
def test_columns_are_judged_as_by_the_core(
    subject: Subject,
    text: str,
    applied_a: float,
    measured_a: float | None,
    pct: float | None,
) -> None:
    rule = Rule.from_json(compile_rule("relay_timing", subject, load()).to_json())
    one = reading(
        text,
        applied_a,
        accuracy=None if pct is None else Accuracy(pct),
        **({} if measured_a is None else {"measured_pickup_a": measured_a}),
    )
    scalar = judge([(rule, one)])[0].as_json()
    columns = judge_columns(rule, columns_of(rule, [one], [-1]))
    assert VERDICT_CODES[columns.verdict[0]] == scalar["verdict"]
    for name in NUMBERS:
        wanted = float("nan") if scalar[name] is None else scalar[name]
        assert getattr(columns, name)[0] == pytest.approx(
            wanted, rel=1e-9, nan_ok=True
        ), name


def bound_of(subject: Subject) -> dict[str, Any]:
    bounds = compile_rule("relay_timing", subject, load()).to_json()["bounds"]
    return dict(bounds[0])


@pytest.mark.property
@given(
    multiple=st.floats(2.0, 30.0),
    error=st.sampled_from(["pickup_error_pct", "current_error_pct"]),
    pct=st.floats(0.0, 30.0),
    more=st.floats(0.0, 15.0),
)
def test_a_greater_error_never_narrows_the_band(
    multiple: float, error: str, pct: float, more: float
) -> None:
    narrow, wide = (
        band_at(bound_of(STANDARD.but(**{error: each})), multiple)
        for each in (pct, pct + more)
    )
    assert narrow is not None
    assert wide is not None
    assert wide.low <= narrow.low <= narrow.expected <= narrow.high <= wide.high


# Exact effect of a pickup error of 5 % alone on the expected time, percent, worked
# out apart from this program: curve, multiple, earliest, latest.
EFFECTS = (
    ("iec_standard_inverse", 2.0, -6.9, 7.6),
    ("iec_standard_inverse", 1.5, -11.3, 13.7),
    ("iec_extremely_inverse", 2.0, -12.6, 14.2),
    ("iec_extremely_inverse", 10.0, -9.8, 10.4),
    ("ieee_extremely_inverse", 2.0, -12.4, 14.0),
    ("ieee_extremely_inverse", 10.0, -6.9, 7.3),
)


@pytest.mark.parametrize(("curve", "multiple", "down", "up"), EFFECTS)
def test_what_a_pickup_error_alone_does(
    curve: str, multiple: float, down: float, up: float
) -> None:
    subject = STANDARD.but(
        curve=curve,
        tolerance_pct=0.0,
        tolerance_s=0.0,
        pickup_error_pct=5.0,
    )
    found = band_at(bound_of(subject), multiple)
    assert found is not None
    assert 100 * (found.low / found.expected - 1) == pytest.approx(down, abs=0.06)
    assert 100 * (found.high / found.expected - 1) == pytest.approx(up, abs=0.06)


def lines(subject: Subject, one: Reading) -> list[str]:
    rule = compile_rule("relay_timing", subject, load())
    working = judge([(rule, one)])[0].working
    return [line for line in working if not line.startswith(("Source", "No accuracy"))]


def test_each_step_can_be_followed() -> None:
    assert lines(BY_5_AND_1, reading("3.45", 200.0)) == [
        "Multiple of pickup: 200 A / 100 A = 2.000000.",
        "IEC standard inverse: t = 0.3 × 0.14 / (2.000000^0.02 − 1) = 3.009 s.",
        "Pickup ± 5 %, current ± 1 %: the relay may see 2.000000 × (1 − 0.01) / "
        "(1 + 0.05) = 1.885714 to 2.000000 × (1 + 0.01) / (1 − 0.05) = 2.126316 times "
        "pickup.",
        "Earliest: 0.3 × 0.14 / (2.126316^0.02 − 1) = 2.763 s, less the greater of "
        "5 % (0.1381 s) and 0.035 s = 2.625 s.",
        "Latest: 0.3 × 0.14 / (1.885714^0.02 − 1) = 3.290 s, and the greater of "
        "5 % (0.1645 s) and 0.035 s more = 3.454 s.",
        "3.450 s is at or above the earliest 2.625 s.",
        "3.450 s is at or below the latest 3.454 s.",
    ]


WORKED = re.compile(
    r"(?P<dial>[\d.]+) × \(?(?P<a>[\d.]+) / \((?P<multiple>[\d.]+)\^(?P<p>[\d.]+) − 1\)"
    r"(?: \+ (?P<b>[\d.]+)\))? = (?P<seconds>[\d.]+) s"
)
SEEN = re.compile(
    r"([\d.]+) × \(1 ([−+]) ([\d.]+)\) / \(1 ([−+]) ([\d.]+)\) = ([\d.]+)"
)
NEAR = STANDARD.but(curve="iec_extremely_inverse", pickup_a=3.0, time_dial=1.0)
WIDE: dict[str, Any] = {"pickup_error_pct": 5.0, "current_error_pct": 1.0}
# Relay, current in ampere, equations in its working: one, or three with both ends.
BY_CALCULATOR: dict[str, tuple[Subject, float, int]] = {
    "steep, near pickup": (NEAR.but(timed_against=SETTING), 4.0004, 1),
    "steep, near pickup, widened": (NEAR.but(**WIDE), 4.0004, 3),
    "flat, near pickup, widened": (STANDARD.but(**WIDE), 133.337, 3),
    "with a constant": (
        STANDARD.but(curve="ieee_very_inverse", time_dial=2.7, **WIDE),
        166.667,
        3,
    ),
    "at a ceiling": (STANDARD.but(ceiling_multiple=20.0), 2345.6, 1),
}


def last_digit(printed: str) -> float:
    """Return what one step of the last digit is worth."""
    return float(10.0 ** -len(printed.partition(".")[2]))


@pytest.mark.parametrize(
    ("subject", "applied_a", "count"), BY_CALCULATOR.values(), ids=BY_CALCULATOR
)
def test_a_pocket_calculator_finds_the_printed_times(
    subject: Subject, applied_a: float, count: int
) -> None:
    said = "\n".join(lines(subject, reading("1", applied_a)))
    found = list(WORKED.finditer(said))
    assert len(found) == count
    for one in found:
        dial, a, multiple, p, b = (
            float(one[name] or 0) for name in ("dial", "a", "multiple", "p", "b")
        )
        seconds = dial * (a / (multiple**p - 1) + b)
        step = last_digit(one["seconds"])
        assert seconds == pytest.approx(float(one["seconds"]), rel=0, abs=step), one[0]


def test_a_pocket_calculator_finds_the_printed_multiples() -> None:
    said = "\n".join(lines(NEAR.but(**WIDE), reading("1", 4.0004)))
    assert "4.0004 A / 3 A = 1.333467." in said
    found = SEEN.findall(said)
    assert len(found) == 2
    for multiple, over, current, under, pickup, printed in found:
        above, below = (
            1 + float(pct) * (1 if sign == "+" else -1)
            for sign, pct in ((over, current), (under, pickup))
        )
        assert float(multiple) * above / below == pytest.approx(
            float(printed), rel=0, abs=last_digit(printed)
        )


def test_the_assigned_error_is_said_with_its_band() -> None:
    said = lines(CLASS_5, reading("1.3", 700.0))
    assert "Assigned error 5 %, from 5 to 10 times pickup × 1.5 = 7.5 %." in said


BESIDE = {
    "within": ("3.20", "within"),
    "outside": ("2.90", "outside"),
    "a bound": (">3.0", "unjudged"),
    "no trip": ("no_trip", "outside"),
}


@pytest.mark.parametrize(("text", "word"), BESIDE.values(), ids=BESIDE)
def test_the_judgement_that_does_not_decide_is_the_one_that_would(
    text: str, word: str
) -> None:
    """Said beside the setting, and found by the rule that it decides in."""
    against_setting = STANDARD.but(timed_against=SETTING)
    one = reading(text, 200.0, measured_pickup_a=103.0)
    (said,) = [
        line for line in lines(against_setting, one) if line.startswith("For inf")
    ]
    assert said == (
        "For information, against the measured pickup 103 A (1.942 times): 3.144 s "
        f"expected, from 2.986 s to 3.301 s: {word}."
    )
    deciding = compile_rule(
        "relay_timing", STANDARD.but(timed_against=MEASURED), load()
    )
    assert judge([(deciding, one)])[0].verdict == word


@pytest.mark.property
@costly(300, house=60)
@given(
    subject=subjects,
    text=texts,
    multiple=st.sampled_from([1.3, 1.5, 2.0, 5.0, 12.0]),
    measured_a=st.sampled_from([97.0, 100.0, 104.0]),
    pct=st.sampled_from([None, 0.5, 8.0]),
)
def test_the_word_beside_is_always_the_verdict_of_the_other_rule(
    subject: Subject, text: str, multiple: float, measured_a: float, pct: float | None
) -> None:
    """Whichever of setting and measured pickup decides, U or none, bound or number."""
    one = reading(
        text,
        multiple * 104.0,
        accuracy=None if pct is None else Accuracy(pct),
        measured_pickup_a=measured_a,
    )
    for decides, other in ((SETTING, MEASURED), (MEASURED, SETTING)):
        beside = [
            line
            for line in lines(subject.but(timed_against=decides), one)
            if line.startswith("For information") and " expected, " in line
        ]
        rule = compile_rule("relay_timing", subject.but(timed_against=other), load())
        for line in beside:
            assert line.endswith(f": {judge([(rule, one)])[0].verdict}.")


# Worked at the ends of a band that a whole time crosses by its U, or by nothing.
WEIGHED: dict[str, tuple[str, float | None, str]] = {
    "U reaches over the earliest": ("2.99", 1.0, "marginal"),
    "U reaches over the latest": ("3.295", 1.0, "marginal"),
    "U stays inside": ("3.144", 1.0, "within"),
    "too early beyond U": ("2.90", 1.0, "outside"),
    "too late beyond U": ("3.40", 1.0, "outside"),
    "no upper end is known": (">3.2", None, "unjudged"),
    "no lower end is known": ("<3.2", None, "unjudged"),
}


@pytest.mark.parametrize(("text", "pct", "word"), WEIGHED.values(), ids=WEIGHED)
def test_u_is_heeded_in_the_judgement_beside(
    text: str, pct: float | None, word: str
) -> None:
    """Against the measured pickup 103 A: from 2.986 s to 3.301 s at 200 A."""
    one = reading(
        text,
        200.0,
        accuracy=None if pct is None else Accuracy(pct),
        measured_pickup_a=103.0,
    )
    (said,) = [
        line
        for line in lines(STANDARD.but(timed_against=SETTING), one)
        if line.startswith("For inf")
    ]
    assert said.endswith(f"from 2.986 s to 3.301 s: {word}.")


def test_a_pickup_is_said_inside_or_beyond_what_is_declared() -> None:
    for measured_a, words in (
        (103.0, "set 100 A: +3.0 %, inside the declared ± 5 %."),
        (95.0, "set 100 A: −5.0 %, inside the declared ± 5 %."),
        (106.0, "set 100 A: +6.0 %, beyond the declared ± 5 %."),
        (100.0, "set 100 A: +0 %, inside the declared ± 5 %."),
    ):
        said = lines(BY_5_AND_1, reading("3.1", 200.0, measured_pickup_a=measured_a))
        assert any(line.endswith(words) for line in said), (measured_a, said)


def test_a_band_without_a_latest_time_says_so_beside() -> None:
    """At 1.3 times with 40 % on the pickup the relay may see less than its pickup."""
    subject = STANDARD.but(pickup_error_pct=40.0, timed_against=MEASURED)
    one = reading("12", 130.0, measured_pickup_a=100.0)
    (said,) = [line for line in lines(subject, one) if line.startswith("For inf")]
    assert "no latest: " in said
