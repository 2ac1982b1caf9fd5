"""Poles compared with the lowest of their group."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging import Accuracy, Criteria, Judgement, Reading, Verdict
from models.procedures import Subject, compile_rule, judge

W, M, X, U = Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE, Verdict.UNJUDGED
GOOD = {"temperature_c": 20.0, "test_current_a": 100.0}


def poles(
    criteria: Criteria,
    *texts: str,
    limit: float | None = None,
    accuracy: Accuracy | None = None,
    **conditions: object,
) -> list[Judgement]:
    """Judge poles read in microohms at 20 degC with 100 A."""
    rule = compile_rule(
        "contact_resistance", Subject(conductor="copper", limit=limit), criteria
    )
    return judge(
        [
            (
                rule,
                Reading(
                    key=str(number),
                    text=text,
                    unit="uOhm",
                    accuracy=accuracy,
                    conditions=GOOD | conditions,
                ),
            )
            for number, text in enumerate(texts)
        ]
    )


def verdicts(found: list[Judgement]) -> list[Verdict]:
    return [judgement.verdict for judgement in found]


# At most 1.5 times the lowest of its group, simple acceptance.
GROUPS: dict[str, tuple[tuple[str, ...], list[Verdict]]] = {
    "all alike": (("34", "35", "36"), [W, W, W]),
    "one just under": (("30", "44.9", "31"), [W, W, W]),
    "one exactly at": (("30", "45", "31"), [W, W, W]),
    "one just over": (("30", "45.1", "31"), [W, X, W]),
    "two over": (("20", "45", "31"), [W, X, X]),
    "a tie for the lowest": (("30", "30"), [W, W]),
    "a pole alone": (("30",), [U]),
    "over range beyond": (("30", ">46", "31"), [W, X, W]),
    "over range short of it": (("30", ">40", "31"), [W, U, W]),
    "over range, all": ((">40", ">40"), [U, U]),
    "under range may be the lowest": (("30", "<40"), [U, U]),
    "under range, harmless to none": (("30", "46", "<40"), [U, X, U]),
    "zero is no reading": (("0", "30"), [U, U]),
}


@pytest.mark.parametrize(("texts", "wanted"), GROUPS.values(), ids=GROUPS)
def test_a_group(
    criteria: Criteria, texts: tuple[str, ...], wanted: list[Verdict]
) -> None:
    assert verdicts(poles(criteria, *texts)) == wanted


# With 1 % of reading: U of a pole is 2 x 1 % / sqrt(3) = 1.1547 %, U of a ratio of
# two the root of the sum of squares, 1.633 % (GUM 5.1.6). The ratio is within up to
# 1.5 / 1.01633 = 1.4759 and outside from 1.5 / 0.98367 = 1.5249 on.
RATIOS: dict[str, tuple[str, Verdict]] = {
    "well within": ("140", W),
    "at the near edge": ("147.5", W),
    "past the near edge": ("147.7", M),
    "at the limit": ("150", M),
    "before the far edge": ("152.4", M),
    "past the far edge": ("152.6", X),
}


@pytest.mark.parametrize(("text", "verdict"), RATIOS.values(), ids=RATIOS)
def test_a_ratio_is_guarded_by_both_uncertainties(
    criteria: Criteria, text: str, verdict: Verdict
) -> None:
    found = poles(criteria, "100", text, accuracy=Accuracy(1))
    assert verdicts(found) == [W, verdict]


# The maker's limit applies besides the group, and judges a pole alone.
LIMITS: dict[str, tuple[tuple[str, ...], list[Verdict]]] = {
    "alone, under": (("39",), [W]),
    "alone, at": (("40",), [W]),
    "alone, over": (("41",), [X]),
    "alike, one over": (("39", "41"), [W, X]),
    "unlike, none over": (("20", "39"), [W, X]),
    "alone, over range": ((">41",), [X]),
    "alone, over range short of it": ((">39",), [U]),
}


@pytest.mark.parametrize(("texts", "wanted"), LIMITS.values(), ids=LIMITS)
def test_a_maker_s_limit(
    criteria: Criteria, texts: tuple[str, ...], wanted: list[Verdict]
) -> None:
    assert verdicts(poles(criteria, *texts, limit=40)) == wanted


def test_a_pole_that_cannot_be_judged_takes_no_part(criteria: Criteria) -> None:
    """The first pole was read with too little current: it sets no standard."""
    rule = compile_rule("contact_resistance", Subject(), criteria)
    weak = GOOD | {"test_current_a": 10.0}
    found = judge(
        [
            (rule, Reading(key="a", text="10", unit="uOhm", conditions=weak)),
            (rule, Reading(key="b", text="30", unit="uOhm", conditions=GOOD)),
            (rule, Reading(key="c", text="44", unit="uOhm", conditions=GOOD)),
        ]
    )
    assert verdicts(found) == [U, W, W]
    assert found[2].limit_high == pytest.approx(45)


def test_poles_are_compared_at_the_reference_temperature(criteria: Criteria) -> None:
    """Copper, 254.5 / 274.5 at 40 degC: 48.5 at 40 degC is 44.97 at 20 degC."""
    rule = compile_rule("contact_resistance", Subject(conductor="copper"), criteria)
    warm = GOOD | {"temperature_c": 40.0}
    found = judge(
        [
            (rule, Reading(key="a", text="30", unit="uOhm", conditions=GOOD)),
            (rule, Reading(key="b", text="48.5", unit="uOhm", conditions=warm)),
            (rule, Reading(key="c", text="48.6", unit="uOhm", conditions=warm)),
        ]
    )
    assert verdicts(found) == [W, W, X]
    assert found[1].corrected == pytest.approx(44.966, abs=0.001)


def test_the_working_names_the_lowest_and_the_limit(criteria: Criteria) -> None:
    found = poles(criteria, "30", "46")
    assert found[0].reason == "30.00 µΩ is the lowest of its group."
    assert "1.5 × the lowest of its group 30.00 µΩ, i.e. 45.00 µΩ" in found[1].reason
    assert found[1].limit_high == pytest.approx(45)


# What was compared where the lowest, or the pole itself, is only a bound.
BOUNDS: dict[str, tuple[tuple[str, ...], int, str]] = {
    "the lowest at least 40": (
        (">40", "45"),
        1,
        "45.00 µΩ is at most 1.5 × the lowest of its group (at least 40.00 µΩ), "
        "i.e. 60.00 µΩ.",
    ),
    "the lowest at most 10": (
        ("<10", "45"),
        1,
        "45.00 µΩ is above 1.5 × the lowest of its group (at most 10.00 µΩ), "
        "i.e. 15.00 µΩ.",
    ),
    "the lowest known, the pole over range": (
        (">46", "30"),
        0,
        "At least 46.00 µΩ is above 1.5 × the lowest of its group 30.00 µΩ, "
        "i.e. 45.00 µΩ.",
    ),
}


@pytest.mark.parametrize(("texts", "at", "reason"), BOUNDS.values(), ids=BOUNDS)
def test_the_words_name_the_bound_that_was_compared(
    criteria: Criteria, texts: tuple[str, ...], at: int, reason: str
) -> None:
    assert poles(criteria, *texts)[at].reason == reason


# With 5 % of reading U of a ratio is 8.165 %: 1.5 / 1.08165 = 1.3868 and
# 1.5 / 0.91835 = 1.6334.
GUARDED_BOUNDS: dict[str, tuple[tuple[str, ...], list[Verdict]]] = {
    "over range, not beyond U": ((">65.3", "40"), [U, W]),
    "over range, beyond U": ((">65.4", "40"), [X, W]),
    "beside one over range, not beyond U": ((">40", "55.5"), [U, U]),
    "beside one over range, beyond U": ((">40", "55.4"), [U, W]),
    "beside one under range, not beyond U": (("<40", "65.3"), [U, U]),
    "beside one under range, beyond U": (("<40", "65.4"), [U, X]),
}


@pytest.mark.parametrize(
    ("texts", "wanted"), GUARDED_BOUNDS.values(), ids=GUARDED_BOUNDS
)
def test_a_bound_is_guarded_as_a_number_is(
    criteria: Criteria, texts: tuple[str, ...], wanted: list[Verdict]
) -> None:
    assert verdicts(poles(criteria, *texts, accuracy=Accuracy(5))) == wanted


resistances = st.lists(st.floats(min_value=1, max_value=1e4), min_size=2, max_size=6)
accuracies = st.sampled_from((None, Accuracy(), Accuracy(1), Accuracy(20)))


@pytest.mark.property
@given(values=resistances, seed=st.integers(0, 99))
def test_the_order_of_the_poles_changes_nothing(
    criteria: Criteria, values: list[float], seed: int
) -> None:
    shuffled = values[:]
    random.Random(seed).shuffle(shuffled)
    by_value = dict(
        zip(values, verdicts(poles(criteria, *map(repr, values))), strict=True)
    )
    found = verdicts(poles(criteria, *map(repr, shuffled)))
    assert [by_value[value] for value in shuffled] == found


@pytest.mark.property
@given(values=resistances, power=st.integers(-3, 3))
def test_only_ratios_count(criteria: Criteria, values: list[float], power: int) -> None:
    """Powers of two keep the ratios exact."""
    scaled = [value * 2.0**power for value in values]
    assert verdicts(poles(criteria, *map(repr, values))) == verdicts(
        poles(criteria, *map(repr, scaled))
    )


@pytest.mark.property
@given(values=resistances)
def test_the_lowest_pole_is_within_and_outside_starts_above_one_and_a_half(
    criteria: Criteria, values: list[float]
) -> None:
    lowest = min(values)
    for value, verdict in zip(
        values, verdicts(poles(criteria, *map(repr, values))), strict=True
    ):
        if math.isclose(value, 1.5 * lowest, rel_tol=1e-8):
            continue
        assert verdict is (W if value < 1.5 * lowest else X)


@pytest.mark.property
@given(  # of nothing there is no reading
    values=resistances,
    bound=st.floats(1, 1e4),
    share=st.floats(0, 1, exclude_min=True),
    u=accuracies,
)
def test_an_under_range_pole_is_judged_as_every_value_it_may_be(
    criteria: Criteria,
    values: list[float],
    bound: float,
    share: float,
    u: Accuracy | None,
) -> None:
    texts = [repr(value) for value in values]
    known = verdicts(poles(criteria, *texts, f"<{bound!r}", accuracy=u))
    exact = verdicts(poles(criteria, *texts, repr(bound * share), accuracy=u))
    assert all(k in (e, U) for k, e in zip(known, exact, strict=True))


@pytest.mark.property
@given(
    values=resistances, bound=st.floats(1, 1e4), more=st.floats(0, 1e4), u=accuracies
)
def test_an_over_range_pole_is_judged_as_every_value_it_may_be(
    criteria: Criteria,
    values: list[float],
    bound: float,
    more: float,
    u: Accuracy | None,
) -> None:
    texts = [repr(value) for value in values]
    known = verdicts(poles(criteria, *texts, f">{bound!r}", accuracy=u))
    exact = verdicts(poles(criteria, *texts, repr(bound + more), accuracy=u))
    assert all(k in (e, U) for k, e in zip(known, exact, strict=True))


@pytest.mark.parametrize("tenths", range(301, 321))
def test_ends_that_differ_by_the_last_digit_of_a_conversion_are_one_number(
    criteria: Criteria, tenths: int
) -> None:
    """30.7 microohms and more than 0.0307 milliohms begin at the same."""
    rule = compile_rule("contact_resistance", Subject(conductor="copper"), criteria)
    typed = ((f"{tenths / 10}", "uOhm"), (f">{tenths / 10000}", "mOhm"))
    exact, _ = judge(
        [
            (
                rule,
                Reading(key=u, text=text, unit=u, accuracy=None, conditions=GOOD),
            )
            for text, u in typed
        ]
    )
    assert exact.limit_high == pytest.approx(1.5 * tenths / 10)
    assert "is the lowest of its group" in exact.reason
