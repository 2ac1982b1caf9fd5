"""The decision: an interval against bounds, with and without a guard band."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.criteria import load
from models.errors import InputError
from models.judging import Accuracy, Judgement, Reading, Rule, Verdict
from models.procedures import Subject, compile_rule, judge
from tests.models.judging.rules_made_up import CITE, high, low, read, rule, with_u

W, M, X, U = Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE, Verdict.UNJUDGED


def one(rule: Rule, reading: Reading) -> Judgement:
    return judge([(rule, reading)])[0]


# Simple acceptance: the whole grid of {exact, over, under range} by {at least, at
# most} by {below, at, above the limit 1000}.
SIMPLE: dict[str, tuple[str, dict[str, object], Verdict]] = {
    "exact, under a minimum": ("999.9", low(1000), X),
    "exact, at a minimum": ("1000", low(1000), W),
    "exact, over a minimum": ("1000.1", low(1000), W),
    "exact, under a maximum": ("999.9", high(1000), W),
    "exact, at a maximum": ("1000", high(1000), W),
    "exact, over a maximum": ("1000.1", high(1000), X),
    "over range short of a minimum": (">999.9", low(1000), U),
    "over range at a minimum": (">1000", low(1000), W),
    "over range beyond a minimum": (">1000.1", low(1000), W),
    "over range short of a maximum": (">999.9", high(1000), U),
    "over range at a maximum": (">1000", high(1000), U),
    "over range beyond a maximum": (">1000.1", high(1000), X),
    "under range short of a minimum": ("<999.9", low(1000), X),
    "under range at a minimum": ("<1000", low(1000), U),
    "under range beyond a minimum": ("<1000.1", low(1000), U),
    "under range short of a maximum": ("<999.9", high(1000), W),
    "under range at a maximum": ("<1000", high(1000), W),
    "under range beyond a maximum": ("<1000.1", high(1000), U),
    "zero, under a minimum": ("0", low(1000), X),
    "a rounding under a minimum": ("999.9999999", low(1000), W),
    "a rounding over a maximum": ("1000.0000001", high(1000), W),
}


@pytest.mark.parametrize(("text", "bound", "verdict"), SIMPLE.values(), ids=SIMPLE)
def test_simple_acceptance(
    text: str, bound: dict[str, object], verdict: Verdict
) -> None:
    assert one(rule(bound), read(text)).verdict is verdict


# Guarded acceptance with U = 10 (ILAC-G8:09/2019, 4.2.3, w = U): met from the limit
# plus U on, missed beyond the limit less U, marginal between; mirrored for a maximum.
GUARDED: dict[str, tuple[str, dict[str, object], Verdict]] = {
    "minimum: beyond U below": ("989.9", low(1000), X),
    "minimum: at U below": ("990", low(1000), M),
    "minimum: within U below": ("999", low(1000), M),
    "minimum: at the limit": ("1000", low(1000), M),
    "minimum: within U above": ("1009.9", low(1000), M),
    "minimum: at U above": ("1010", low(1000), W),
    "minimum: beyond U above": ("1010.1", low(1000), W),
    "maximum: beyond U below": ("989.9", high(1000), W),
    "maximum: at U below": ("990", high(1000), W),
    "maximum: within U below": ("990.1", high(1000), M),
    "maximum: at the limit": ("1000", high(1000), M),
    "maximum: within U above": ("1009.9", high(1000), M),
    "maximum: at U above": ("1010", high(1000), M),
    "maximum: beyond U above": ("1010.1", high(1000), X),
    "over range, a minimum within its U": (">1009.9", low(1000), U),
    "over range, a minimum beyond its U": (">1010", low(1000), W),
    "over range, a maximum within its U": (">1009.9", high(1000), U),
    "over range, a maximum beyond its U": (">1010.1", high(1000), X),
    "under range, a minimum within its U": ("<990.1", low(1000), U),
    "under range, a minimum beyond its U": ("<989.9", low(1000), X),
    "under range, a maximum within its U": ("<990.1", high(1000), U),
    "under range, a maximum beyond its U": ("<990", high(1000), W),
}


@pytest.mark.parametrize(("text", "bound", "verdict"), GUARDED.values(), ids=GUARDED)
def test_guarded_acceptance(
    text: str, bound: dict[str, object], verdict: Verdict
) -> None:
    assert one(rule(bound), read(text, with_u(10))).verdict is verdict


# Worked with the GUM's type B evaluation and ILAC-G8's guard band by hand: minimum
# 5.00 GOhm, instrument 5 % of reading and 3 counts of 0.01 GOhm.
BY_HAND: dict[str, tuple[str, float, Verdict]] = {
    # GOhm read, U by hand in GOhm, verdict
    "pass": ("5.60", 0.358, W),
    "conditional pass, a hair short": ("5.33", 0.342, M),
    "conditional pass": ("5.20", 0.335, M),
    "conditional fail": ("4.80", 0.312, M),
    "fail": ("4.40", 0.289, X),
}


@pytest.mark.parametrize(("text", "expanded", "verdict"), BY_HAND.values(), ids=BY_HAND)
def test_a_guard_band_by_hand(text: str, expanded: float, verdict: Verdict) -> None:
    reading = Reading(
        key="", text=text, unit="GOhm", accuracy=Accuracy(5, 0.03), conditions={}
    )
    found = one(rule(low(5000)), reading)
    assert found.verdict is verdict
    assert found.uncertainty is not None
    assert found.uncertainty / 1000 == pytest.approx(expanded, abs=0.0006)


# JCGM 106:2012, 7.4: measured 13.6, standard uncertainty 1.8, tolerance 12.5 to 16.3;
# conformance probability 66 %. With w = U = 3.6 there is no acceptance zone at all.
def test_the_example_of_jcgm_106() -> None:
    tolerance = rule(low(12.5), high(16.3))
    simple, guarded = read("13.6"), read("13.6", with_u(2 * 1.8))
    assert one(tolerance, simple).verdict is W
    assert one(tolerance, guarded).verdict is M
    assert not any(
        one(tolerance, read(f"{x / 10}", with_u(3.6))).verdict is W
        for x in range(100, 200)
    )


WORST: dict[str, tuple[str, Verdict]] = {
    "outside one of two": ("900", X),
    "within both": ("1500", W),
    "outside the other": ("2100", X),
}


@pytest.mark.parametrize(("text", "verdict"), WORST.values(), ids=WORST)
def test_the_worst_of_two_bounds_wins(text: str, verdict: Verdict) -> None:
    found = one(rule(low(1000), high(2000)), read(text))
    assert found.verdict is verdict
    assert (found.limit_low, found.limit_high) == (1000, 2000)


def test_the_tightest_of_two_minima_is_recorded() -> None:
    found = one(rule(low(1000), low(1200)), read("1100"))
    assert (found.verdict, found.limit_low) == (X, 1200)


def test_outside_goes_before_unjudged() -> None:
    found = one(rule(low(2000), high(500)), read(">1000"))
    assert found.verdict is X
    assert "maximum" in found.reason
    assert "minimum" not in found.reason


GATE = {"on": "test_kv", "at_least": 2.5, "unit": "kV", "reason": "Too low."}
KNOWN = {"on": "temperature_c", "known": True, "reason": "No temperature."}

GATES: dict[str, tuple[dict[str, object], dict[str, object], Verdict]] = {
    "a number at the gate": (GATE, {"test_kv": 2.5}, W),
    "a number over the gate": (GATE, {"test_kv": 5.0}, W),
    "a number under the gate": (GATE, {"test_kv": 2.4}, U),
    "a number not given": (GATE, {}, U),
    "a condition known": (KNOWN, {"temperature_c": 0.0}, W),
    "a condition not known": (KNOWN, {}, U),
    "a gate that does not apply": (
        {**GATE, "when": {"supply": "dc"}},
        {"supply": "ac"},
        W,
    ),
    "a gate that applies": ({**GATE, "when": {"supply": "dc"}}, {"supply": "dc"}, U),
}


@pytest.mark.parametrize(("gate", "given", "verdict"), GATES.values(), ids=GATES)
def test_a_gate(
    gate: dict[str, object], given: dict[str, object], verdict: Verdict
) -> None:
    found = one(rule(low(1), gates=[gate]), read("1000", **given))
    assert found.verdict is verdict


BETWEEN = {"on": "test_kv", "at_least": 2.5, "at_most": 10.0, "unit": "kV"}
BETWEEN_SAID = {
    "below": (2.4, "The test voltage 2.4 kV is below the 2.5 kV that is wanted."),
    "above": (
        12.0,
        "The test voltage 12 kV is above the 10 kV that is wanted at most.",
    ),
}


@pytest.mark.parametrize(("kv", "said"), BETWEEN_SAID.values(), ids=BETWEEN_SAID)
def test_a_gate_with_both_ends_says_which_was_missed(kv: float, said: str) -> None:
    gate = {**BETWEEN, "reason": "Look at the set."}
    assert one(rule(low(1), gates=[gate]), read("1000", test_kv=kv)).reason == said
    advising = rule(low(1), gates=[{**gate, "with_reason": True}])
    found = one(advising, read("1000", test_kv=kv))
    assert found.reason == f"{said} Look at the set."


def test_an_unjudged_reading_keeps_its_value_and_says_every_reason() -> None:
    found = one(rule(low(1), gates=[KNOWN, GATE]), read("1000"))
    assert (found.verdict, found.value, found.unit) == (U, 1000, "MOhm")
    assert "No temperature." in found.reason
    assert "test voltage is not known; 2.5 kV is wanted" in found.reason


def test_a_reason_that_holds_from_the_start_stops_the_judging() -> None:
    found = one(
        rule(low(1), unjudged=[{"reason": "The rating is not known."}]), read("9")
    )
    assert (found.verdict, found.reason) == (U, "The rating is not known.")


def test_a_rule_without_bounds_judges_nothing() -> None:
    found = one(rule(), read("1000"))
    assert (found.verdict, found.reason) == (U, "No criterion applies to this reading.")


def test_a_bound_for_other_conditions_is_left_out() -> None:
    bound = {**high(1), "when": {"method": "magnetron"}}
    assert one(rule(bound, low(5)), read("10", method="ac")).verdict is W


def test_a_simple_rule_takes_no_account_of_the_accuracy() -> None:
    found = one(rule(low(1000), decision="simple"), read("1001", with_u(10)))
    assert (found.verdict, found.uncertainty) == (W, None)


def test_the_limits_of_what_was_recorded_are_those_of_the_json_contract() -> None:
    found = one(rule(low(1000)), read("1100", with_u(10))).as_json()
    assert set(found) == {
        "verdict",
        "value",
        "unit",
        "corrected",
        "corrected_unit",
        "limit_low",
        "limit_high",
        "uncertainty",
        "reason",
        "cite",
        "working",
    }
    assert found["cite"] == [CITE]
    assert found["limit_high"] is None


def test_the_working_ends_with_the_source_and_says_the_decision_rule() -> None:
    working = one(rule(low(1000)), read("1100")).working
    assert working[-1] == (
        "Source: Made-up document (2020), 1, a; read in a published copy."
    )
    assert any("simple acceptance" in line for line in working)
    guarded = one(rule(low(1000)), read("1100", with_u(10))).working
    assert any("guarded acceptance" in line for line in guarded)


# Of a bound, only the side that is known can be moved by U.
SIGNS: dict[str, tuple[str, dict[str, object], str]] = {
    "over range, a minimum, not judged": (
        ">900",
        low(1000),
        "At least 900.0 MΩ − U 10.00 MΩ is all that is known: ",
    ),
    "over range, a minimum, met": (">1100", low(1000), "At least 1.100 GΩ − U 0.01"),
    "over range, a maximum, not judged": (">900", high(1000), "At least 900.0 MΩ − U"),
    "over range, a maximum, missed": (
        ">1100",
        high(1000),
        "At least 1.100 GΩ − U 0.01",
    ),
    "under range, a minimum, not judged": ("<1100", low(1000), "At most 1.100 GΩ + U"),
    "under range, a minimum, missed": ("<900", low(1000), "At most 900.0 MΩ + U 10"),
    "under range, a maximum, not judged": ("<1100", high(1000), "At most 1.100 GΩ + U"),
    "under range, a maximum, met": ("<900", high(1000), "At most 900.0 MΩ + U 10"),
    "exact, a minimum, met": ("1100", low(1000), "1.100 GΩ − U 0.01"),
    "exact, a minimum, missed": ("900", low(1000), "900.0 MΩ + U 10"),
    "exact, a maximum, met": ("900", high(1000), "900.0 MΩ + U 10"),
    "exact, a maximum, missed": ("1100", high(1000), "1.100 GΩ − U 0.01"),
}


@pytest.mark.parametrize(("text", "bound", "said"), SIGNS.values(), ids=SIGNS)
def test_the_sign_of_u_is_that_which_matters(
    text: str, bound: dict[str, object], said: str
) -> None:
    assert one(rule(bound), read(text, with_u(10))).reason.startswith(said)


def test_no_reading_is_below_a_minimum_of_nothing() -> None:
    """U is more than what was read, but no resistance is negative."""
    found = one(rule(low(0)), read("1", with_u(10)))
    assert (found.verdict, found.limit_low) == (W, 0)
    assert found.reason == "No reading can be below the minimum 0 MΩ."


def test_a_rule_without_a_gate_still_wants_the_temperature_it_corrects_by() -> None:
    correction = {"by": "metal", "k": 234.5, "reference_c": 20.0, "label": "copper"}
    found = one(rule(low(1), correction=correction), read("5000"))
    assert (found.verdict, found.corrected) == (U, None)
    assert found.reason == "The temperature is not known."


LEGIBLE = {
    "a byte order mark": ("\ufeff5000", "5000 MΩ at 20 °C"),
    "marks without width": ("\u200b5000\u200d\u2060", "5000 MΩ at 20 °C"),
    "a mark after the sign": ("\ufeff>\u200b 5000 ", ">5000 MΩ at 20 °C"),
    "as typed otherwise": (" +5.0e3 ", "+5.0e3 MΩ at 20 °C"),
}


@pytest.mark.parametrize(("text", "said"), LEGIBLE.values(), ids=LEGIBLE)
def test_the_working_shows_what_was_typed_without_hidden_marks(
    text: str, said: str
) -> None:
    correction = {
        "by": "factor",
        "reference_c": 20,
        "label": "made up",
        "points": [[20, 1.0], [30, 2.0]],
    }
    found = one(rule(low(1), correction=correction), read(text, temperature_c=20))
    assert any(line.startswith(said) for line in found.working)
    assert not any(mark in line for line in found.working for mark in "\ufeff\u200b")


def test_an_over_range_reading_is_recorded_by_its_bound_without_u() -> None:
    found = one(rule(low(1000)), read(">2000", with_u(10)))
    assert (found.value, found.corrected, found.uncertainty) == (2000, 2000, None)


def test_u_is_carried_through_the_correction() -> None:
    correction = {
        "by": "factor",
        "reference_c": 20,
        "label": "made up",
        "points": [[20, 1.0], [30, 2.0]],
    }
    found = one(
        rule(low(1000), correction=correction),
        read("600", with_u(10), temperature_c=30),
    )
    assert (found.corrected, found.uncertainty) == (1200, pytest.approx(20))


REFUSED = {
    "a negative value": ("-5", "MOhm", "value"),
    "a unit that does not fit": ("5", "s", "unit"),
    "no unit": ("5", None, "unit"),
    "an outcome of another test": ("held", "MOhm", "value"),
    "no number": ("good", "MOhm", "value"),
}


@pytest.mark.parametrize(("text", "unit", "field"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_a_reading_is_an_input_error(
    text: str, unit: str | None, field: str
) -> None:
    with pytest.raises(InputError) as caught:
        one(rule(low(1)), Reading(key="", text=text, unit=unit))
    assert [fault.field for fault in caught.value.faults] == [field]


def test_five_gigaohms_are_five_thousand_megaohms() -> None:
    reading = Reading(key="", text="5.00", unit="GOhm")
    assert one(rule(low(5000)), reading).verdict is W


RANK = {X: 0, M: 1, W: 2}
values = st.floats(min_value=0, max_value=1e9)
widths = st.one_of(st.none(), st.floats(min_value=0, max_value=1e6))


def accuracy_of(width: float | None) -> Accuracy | None:
    return None if width is None else with_u(width)


@pytest.mark.property
@given(value=values, more=values, limit=values, width=widths)
def test_a_higher_reading_is_never_worse_against_a_minimum(
    value: float, more: float, limit: float, width: float | None
) -> None:
    accuracy = accuracy_of(width)
    first, second = (
        one(rule(low(limit)), read(repr(v), accuracy)).verdict
        for v in (value, value + more)
    )
    assert RANK[first] <= RANK[second]


@pytest.mark.property
@given(value=values, more=values, limit=values, width=widths)
def test_a_higher_reading_is_never_better_against_a_maximum(
    value: float, more: float, limit: float, width: float | None
) -> None:
    accuracy = accuracy_of(width)
    first, second = (
        one(rule(high(limit)), read(repr(v), accuracy)).verdict
        for v in (value, value + more)
    )
    assert RANK[first] >= RANK[second]


@pytest.mark.property
@given(value=values, limit=values, width=st.floats(min_value=0, max_value=1e6))
def test_a_guard_band_never_turns_outside_into_within(
    value: float, limit: float, width: float
) -> None:
    simple = one(rule(low(limit)), read(repr(value))).verdict
    guarded = one(rule(low(limit)), read(repr(value), with_u(width))).verdict
    assert guarded in (simple, M)


@pytest.mark.property
@given(value=values, limit=values)
def test_an_exact_reading_with_every_condition_is_always_judged(
    value: float, limit: float
) -> None:
    assert one(rule(low(limit)), read(repr(value))).verdict in (W, X)


@pytest.mark.property
@given(value=values, limit=values, true=values)
def test_an_over_range_reading_is_judged_as_every_value_it_may_be(
    value: float, limit: float, true: float
) -> None:
    """If ">v" is within or outside, then so is any exact reading from v on."""
    for bound in (low(limit), high(limit)):
        known = one(rule(bound), read(f">{value!r}")).verdict
        exact = one(rule(bound), read(repr(value + true))).verdict
        assert known in (exact, U)


@pytest.mark.property
@given(value=values, limit=values, share=st.floats(min_value=0, max_value=1))
def test_an_under_range_reading_is_judged_as_every_value_it_may_be(
    value: float, limit: float, share: float
) -> None:
    for bound in (low(limit), high(limit)):
        known = one(rule(bound), read(f"<{value!r}")).verdict
        exact = one(rule(bound), read(repr(value * share))).verdict
        assert known in (exact, U)


@pytest.mark.property
@given(value=values, limit=values, width=widths)
def test_the_numbers_of_a_judgement_are_finite(
    value: float, limit: float, width: float | None
) -> None:
    for sign in ("", ">", "<"):
        found = one(rule(low(limit)), read(f"{sign}{value!r}", accuracy_of(width)))
        for number in (found.value, found.corrected, found.uncertainty):
            assert number is None or math.isfinite(number)
        assert found.reason


# A rule that compares within a group, on a procedure that has outcomes too: none is
# compiled so, but a stored one may say it.
def test_an_outcome_takes_no_part_in_a_comparison_of_numbers() -> None:
    compared = Rule(
        procedure="vacuum_integrity",
        unit="Pa",
        bounds=[{"kind": "high_of_lowest", "times": 1.5, "cite": 0}],
        cite=[CITE],
    )
    held = Reading(key="held", text="held")
    numbers = [Reading(key=text, text=text, unit="Pa") for text in ("2e-3", "2.9e-3")]
    alone = one(compared, held)
    assert (alone.verdict, alone.reason) == (
        U,
        "A number is wanted here, not an outcome.",
    )
    among = judge([(compared, each) for each in (held, *numbers)])
    assert [each.verdict for each in among] == [U, W, W]
    assert among[0].reason == "A number is wanted here, not an outcome."


# Which limit the probability is worked for where two of a kind apply: the tighter.
TIGHTER: dict[str, tuple[tuple[dict[str, object], ...], str]] = {
    "the greater of two minima": ((low(800), low(900)), "0.9000"),
    "whichever comes first": ((low(900), low(800)), "0.9000"),
    "the smaller of two maxima": ((high(1200), high(1100)), "1.100"),
    "in the other order": ((high(1100), high(1200)), "1.100"),
}


@pytest.mark.parametrize(("bounds", "limit"), TIGHTER.values(), ids=TIGHTER)
def test_the_probability_is_that_of_the_tighter_limit(
    bounds: tuple[dict[str, object], ...], limit: str
) -> None:
    noted = rule(*bounds, notes=[{"say": "conformity", "cite": [0]}])
    working = one(noted, read("1000", with_u(20))).working
    (said,) = [line for line in working if line.startswith("Probability")]
    terms = (f"(1.000 − {limit}) / 0.01000", f"({limit} − 1.000) / 0.01000")
    assert any(term in said for term in terms), said


IMPOSSIBLE: dict[str, tuple[dict[str, object], str]] = {
    "no pickup": ({"pickup_a": None}, "The pickup is not known."),
    "a pickup of nothing": ({"pickup_a": 0.0}, "The pickup is not above zero."),
    "no dial": ({"time_dial": None}, "The time dial is not known."),
    "neither": (
        {"pickup_a": None, "time_dial": 0.0},
        "The pickup is not known. The time dial is not above zero.",
    ),
    "a dial at the end of all proportion": (
        {"time_dial": 1e30},
        "The time dial is out of all proportion.",
    ),
}


@pytest.mark.parametrize(("setting", "reason"), IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_a_stored_setting_that_no_relay_has_leaves_the_time_unjudged(
    setting: dict[str, object], reason: str
) -> None:
    subject = Subject(curve="ieee_very_inverse", pickup_a=100.0, time_dial=2.0)
    stored = compile_rule("relay_timing", subject, load()).to_json()
    stored["bounds"] = [{**stored["bounds"][0], **setting}]
    timed = Reading(key="t", text="5.9", unit="s", conditions={"applied_a": 300.0})
    found = one(Rule.from_json(stored), timed)
    assert (found.verdict, found.reason) == (U, reason)


@pytest.mark.parametrize(("applied_a", "judged"), [(1e8, True), (1.01e8, False)])
def test_a_multiple_of_a_million_is_the_last_that_is_judged(
    applied_a: float, *, judged: bool
) -> None:
    subject = Subject(curve="definite_time", pickup_a=100.0, time_dial=2.0)
    compiled = compile_rule("relay_timing", subject, load())
    timed = Reading(key="t", text="2.0", unit="s", conditions={"applied_a": applied_a})
    assert (one(compiled, timed).verdict is W) == judged
