"""Rules of version 3 in columns: figures worked by hand, then against the core."""

import random
from collections.abc import Mapping, Sequence
from itertools import chain
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging import Accuracy, Reading, Rule
from models.judging.batch import VERDICT_CODES, Judged, judge_columns
from models.judging.judge import judge_checked
from models.judging.reading_check import Checked
from models.judging.values import Outcome, parse_value
from tests.data.columns import columns_of_checked
from tests.data.golden_words import checked_items
from tests.data.made_up_gas import made_up_gas
from tests.data.made_up_rows import gate_on_a_row, rows_of_a_reading, word_of_a_row
from tests.data.made_up_words import made_up_words
from tests.laws import costly
from tests.models.judging.test_batch import differences

Group = Sequence[tuple[Reading, Checked]]


def rule_of(unit: str, *bounds: Mapping[str, Any], **given: Any) -> Rule:
    return Rule(procedure="made up", unit=unit, bounds=bounds, **given)


def read(text: str, unit: str, u_pct: float = 0.0, **conditions: Any) -> Any:
    """Return a reading whose instrument has the accuracy *u_pct* of reading."""
    value = parse_value(text)
    outcome = isinstance(value, Outcome)
    accuracy = Accuracy(u_pct, 0.0) if u_pct and not outcome else None
    named = None if outcome else unit
    reading = Reading(
        key="r", text=text, unit=named, accuracy=accuracy, conditions=conditions
    )
    return reading, (value, named)


def judged(rule: Rule, *groups: Group) -> Judged:
    numbers = [at for at, group in enumerate(groups) for _ in group]
    readings, checked = zip(*chain(*groups), strict=True)
    return judge_columns(rule, columns_of_checked(readings, checked, numbers))


def verdicts(rule: Rule, *groups: Group) -> list[str | None]:
    return [VERDICT_CODES[code] for code in judged(rule, *groups).verdict]


OVER = {"kind": "over_lowest", "by": 0.002}


def timed(*texts: str) -> Group:
    """Readings in s of a timer that is right within 0.1 ms: U is 0.11547 ms."""
    accuracy = Accuracy(0.0, 0.1, "ms")
    return [
        (
            Reading(key="r", text=text, unit="s", accuracy=accuracy),
            (parse_value(text), "s"),
        )
        for text in texts
    ]


def test_over_the_lowest_the_difference_counts_with_its_u() -> None:
    """Ud = sqrt(2) x 0.11547 = 0.1633 ms: 2 ms is met to 1.837, missed from 2.164."""
    group = timed("0.0300", "0.0317", "0.0319", "0.0321", "0.0323")
    found = verdicts(rule_of("s", OVER), group)
    assert found == ["within", "within", "marginal", "marginal", "outside"]
    limits = judged(rule_of("s", OVER), group).limit_high
    assert limits == pytest.approx(0.032)


ALONE: dict[str, tuple[tuple[Mapping[str, Any], ...], str]] = {
    "with nothing else": ((OVER,), "unjudged"),
    "with a maximum": ((OVER, {"kind": "high", "value": 0.05}), "within"),
    "with a minimum": ((OVER, {"kind": "low", "value": 0.01}), "within"),
    "with another comparison": (
        (OVER, {"kind": "high_of_lowest", "times": 2.0}),
        "unjudged",
    ),
}


@pytest.mark.parametrize(("bounds", "verdict"), ALONE.values(), ids=ALONE)
def test_alone_there_is_no_difference(
    bounds: tuple[Mapping[str, Any], ...], verdict: str
) -> None:
    assert verdicts(rule_of("s", *bounds), timed("0.030")) == [verdict]


BASELINE = {"kind": "of_baseline", "value": 36.0, "u": 0.831384387633061}
# 41.0 on 36.0 uOhm, both 2 % of reading: U = 2 x 2 % / sqrt(3) = 2.3094 % of each, so
# that the ratio 1.13889 has U = 1.13889 x sqrt(2) x 2.3094 % = 0.037196.
TIMES: dict[str, tuple[float, str]] = {
    "well beyond it": (1.2, "within"),
    "just beyond U": (1.1762, "within"),
    "just within U": (1.1760, "marginal"),
    "on this side of it": (1.1017, "marginal"),
    "missed": (1.1016, "outside"),
}


@pytest.mark.parametrize(("times", "verdict"), TIMES.values(), ids=TIMES)
def test_the_baseline_s_u_counts_too(times: float, verdict: str) -> None:
    rule = rule_of("uOhm", BASELINE | {"high_times": times})
    assert verdicts(rule, [read("41.0", "uOhm", 2.0)]) == [verdict]


def test_an_error_in_percent_is_of_what_is_expected() -> None:
    """119.4 V on 120 V is -0.5 %; the limits lie on either side of it."""
    derive = [{"name": "error", "op": "error_pct", "expected": 120.0, "unit": "%"}]
    near = {"kind": "near", "of": "error", "expected": 0.0}
    for fixed, verdict in ((0.51, "within"), (0.5, "within"), (0.49, "outside")):
        rule = rule_of("V", near | {"fixed": fixed}, derive=derive)
        assert verdicts(rule, [read("119.4", "V")]) == [verdict]
    assert np.isnan(judged(rule, [read("119.4", "V")]).limit_low[0])  # of the error


def test_expected_by_a_condition() -> None:
    """300 A through 600:5 is 2.5 A; 3 % of it 0.075 A."""
    near = {
        "kind": "near",
        "expected": {"on": "injected_a", "times": 5 / 600},
        "pct": 3.0,
    }
    rule = rule_of("A", near)
    texts = {"2.5": "within", "2.575": "within", "2.58": "outside", "2.42": "outside"}
    group = [read(text, "A", injected_a=300.0) for text in texts]
    assert verdicts(rule, group) == list(texts.values())
    assert verdicts(rule, [read("2.5", "A")]) == ["unjudged"]


def test_signed_readings_have_no_floor() -> None:
    """-35 degC of frost against at most -30; under range it may be anything below."""
    rule = rule_of("degC", {"kind": "high", "value": -30.0}, signed=True)
    texts = {"-35": "within", "-25": "outside", "<-40": "within", "<-20": "unjudged"}
    assert verdicts(rule, [read(text, "degC") for text in texts]) == list(
        texts.values()
    )
    fahrenheit = judged(rule, [read("-40", "degF")])
    assert fahrenheit.corrected == pytest.approx(-40.0)


WITHSTAND = {
    "kind": "withstand",
    "level_kv": 27.0,
    "hold_s": 60.0,
    "over_pct": 5.0,
    "rated_kv": 36.0,
}
LEVELS: dict[str, tuple[float, str]] = {
    "the level": (27.0, "within"),
    "above it": (30.0, "marginal"),
    "the rated withstand": (36.0, "marginal"),
    "beyond the rated withstand": (37.0, "outside"),
    "too low": (26.0, "unjudged"),
}


@pytest.mark.parametrize(("kv", "verdict"), LEVELS.values(), ids=LEVELS)
def test_beyond_the_rated_withstand_the_gear_was_stressed(
    kv: float, verdict: str
) -> None:
    rule = Rule(procedure="made up", unit=None, bounds=(WITHSTAND,))
    assert verdicts(rule, [read("held", "", test_kv=kv, duration_s=60.0)]) == [verdict]


CALIBRATION = {"on": "calibration", "one_of": ["in_date"], "last": True}
CALIBRATED: dict[str, tuple[str, str | None, str]] = {
    "in date": ("4", "in_date", "within"),
    "lapsed": ("4", "lapsed", "unjudged"),
    "no instrument": ("4", "none", "unjudged"),
    "not known": ("4", None, "unjudged"),
    "outside stays outside": ("6", "lapsed", "outside"),
}


@pytest.mark.parametrize(
    ("text", "calibration", "verdict"), CALIBRATED.values(), ids=CALIBRATED
)
def test_an_instrument_out_of_calibration_proves_nothing(
    text: str, calibration: str | None, verdict: str
) -> None:
    rule = rule_of("Ohm", {"kind": "high", "value": 5.0}, gates=(CALIBRATION,))
    given = {} if calibration is None else {"calibration": calibration}
    assert verdicts(rule, [read(text, "Ohm", **given)]) == [verdict]


def test_a_word_that_has_no_code_is_compared_as_it_is() -> None:
    """Opening and closing have limits of their own."""
    rule = rule_of(
        "ms",
        {"kind": "high", "value": 50.0, "when": {"operation": "open"}},
        {"kind": "high", "value": 80.0, "when": {"operation": "close"}},
        gates=({"on": "operation", "one_of": ["open", "close"]},),
    )
    group = [
        read("60", "ms", operation=operation) for operation in ("open", "close", "trip")
    ]
    assert verdicts(rule, group) == ["outside", "within", "unjudged"]


# Against the scalar core, on rules that are made up of every word

UNITS = {"Ohm": ("Ohm", "mOhm"), "degC": ("degC", "degF"), "V": ("V", "mV")}


def made_up_rule(dice: random.Random) -> Rule:
    unit = dice.choice(list(UNITS))
    signed = unit == "degC" or dice.random() < 0.2
    derive = [made_up_word(dice, at, unit) for at in range(dice.randint(0, 2))]
    values = ["reading", "a", "b", *(word["name"] for word in derive)]
    bounds = [
        made_up_bound(dice, values, signed=signed) for _ in range(dice.randint(0, 3))
    ]
    gates = [made_up_gate(dice, values[1:]) for _ in range(dice.randint(0, 2))]
    return rule_of(
        unit,
        *bounds,
        signed=signed,
        derive=derive,
        gates=gates,
        decision=dice.choice(("guarded", "guarded", "simple")),
        correction=dice.choice(
            (
                {"by": "none"},
                {"by": "none"},
                {"by": "metal", "k": 234.5, "reference_c": 20.0},
            )
        ),
    )


def made_up_word(dice: random.Random, at: int, unit: str) -> dict[str, Any]:
    if dice.random() < 0.4:
        return word_of_a_row(dice, f"d{at}", unit, ("word", "x"))
    op = dice.choice(("over", "plus", "minus", "error_pct"))
    others: list[Any] = [{"on": f"d{n}"} for n in range(at)]
    by = dice.choice((2.0, -3.0, 0.0, {"on": "a"}, {"on": "b"}, *others))
    of = ["reading", "a", *(f"d{n}" for n in range(at))]
    return {
        "name": f"d{at}",
        "op": op,
        "of": dice.choice(of),
        "expected" if op == "error_pct" else "by": by,
        "signed": dice.random() < 0.3,
        "after": dice.random() < 0.4,
        **when(dice),
    }


def when(dice: random.Random) -> dict[str, Any]:
    return {"when": {"word": dice.choice("xy")}} if dice.random() < 0.2 else {}


def made_up_gate(dice: random.Random, values: Sequence[str]) -> dict[str, Any]:
    kind = dice.random()
    if kind < 0.15:
        return gate_on_a_row(dice, [name for name in values if name.startswith("d")])
    if kind < 0.3:
        return {"on": "word", "one_of": dice.choice((["x"], ["x", "y"])), **when(dice)}
    if kind < 0.5:
        return CALIBRATION
    limits = dice.choice(
        ({}, {"at_least": 1.0}, {"at_most": 4.0}, {"at_least": -1.0, "at_most": 3.0})
    )
    on = dice.choice((*values, "calibration"))
    return {"on": on, "last": dice.random() < 0.2, **limits}


def made_up_bound(
    dice: random.Random, values: Sequence[str], *, signed: bool
) -> dict[str, Any]:
    kinds = ["low", "high", "near", "expected"]
    if not signed:
        kinds += ["of_baseline", "high_of_lowest", "over_lowest"]
    kind = dice.choice(kinds)
    of = dice.choice(values)
    named = {} if of == "reading" or kind.endswith("lowest") else {"of": of}
    limit = dice.choice((-2.0, 0.0, 1.0, 2.0, 3.0))
    own: dict[str, dict[str, Any]] = {
        "low": {"value": limit},
        "high": {"value": limit},
        "near": {
            "expected": dice.choice(
                (
                    limit,
                    {"on": "a", "times": 1.5, "plus": -1.0},
                    {"on": "b", "points": [[0.0, 1.0], [2.0, 1.0], [4.0, 3.0]]},
                )
            ),
            "pct": dice.choice((0.0, 20.0)),
            "fixed": dice.choice((0.0, 0.5)),
            "below": dice.random() < 0.8,
            "above": dice.random() < 0.8,
        },
        "expected": {
            "met": ["blocked"],
            "missed": ["operated"],
            "if_fitted": dice.random() < 0.5,
        },
        "of_baseline": {
            "value": 2.0,
            "u": dice.choice((None, 0.1)),
            "low_times": 0.8,
            "high_times": 1.2,
        },
        "high_of_lowest": {"times": 1.5, "odd_share": 0.5},
        "over_lowest": {"by": dice.choice((0.0, 1.0))},
    }
    kept = named if kind != "expected" else {}
    return {"kind": kind, **own[kind], **kept, **when(dice)}


def made_up_reading(dice: random.Random, rule: Rule) -> tuple[Reading, Checked]:
    unit = dice.choice(UNITS[str(rule.unit)])
    sign = dice.choice(("", "", "-")) if rule.signed else ""
    number = dice.choice(("0", "1", "2", "2.5", "3", "4", "1000", "2000", "3000"))
    text = dice.choice(("", "", "", ">", "<")) + sign + number
    if dice.random() < 0.1:
        text = dice.choice(("blocked", "operated", "not_fitted", "held", "broke_down"))
    accuracy = Accuracy(dice.choice((0.0, 2.0)), dice.choice((0.0, 0.1)), unit)
    reading, checked = read(text, unit)
    given = {
        "a": dice.choice((None, 0.0, 1.0, 2.0, -2.0)),
        "b": dice.choice((None, 1.0, 3.0, 5.0)),
        "temperature_c": dice.choice((20.0, 20.0, 30.0, -300.0, None)),
        "word": dice.choice(("x", "y", "z", None)),
        "calibration": dice.choice(("in_date", "in_date", "lapsed", None)),
    }
    exact = isinstance(checked[0], Outcome)
    return (
        Reading(
            key="r",
            text=text,
            unit=reading.unit,
            accuracy=None if exact or dice.random() < 0.3 else accuracy,
            conditions=rows_of_a_reading(dice)
            | {name: value for name, value in given.items() if value is not None},
            conditions_accuracy={"a": Accuracy(1.0, 0.05)}
            if dice.random() < 0.5
            else {},
        ),
        checked,
    )


@pytest.mark.property
@costly(60, house=15)
@given(seed=st.integers(0, 2**32))
def test_made_up_rules_are_judged_as_by_the_core(seed: int) -> None:
    dice = random.Random(seed)
    for _ in range(8):
        rule = made_up_rule(dice)
        groups = [
            [made_up_reading(dice, rule) for _ in range(dice.randint(1, 4))]
            for _ in range(20)
        ]
        wanted = [
            judgement.as_json()
            for group in groups
            for judgement in judge_checked(
                [(rule, *each) for each in group], working=False
            )
        ]
        found = judged(rule, *groups)
        rows = list(chain(*groups))
        unlike = [
            (rows[row][0], said)
            for row, each in enumerate(wanted)
            if (said := differences(found, row, each))
        ]
        assert unlike == [], rule.to_json()


def test_every_word_in_columns_is_the_word_in_the_core() -> None:
    for procedure, items in made_up_words(21, 600):
        rules, readings, checked = zip(*checked_items(procedure, items), strict=True)
        wanted = judge_checked(
            list(zip(rules, readings, checked, strict=True)), working=False
        )
        columns = columns_of_checked(readings, checked, [0] * len(readings))
        found = judge_columns(rules[0], columns)
        for at, one in enumerate(wanted):
            assert differences(found, at, one.as_json()) == [], items[at]


def test_gas_in_columns_is_gas_in_the_core() -> None:
    """Each made-up reading alone, since each has a rule of its own."""
    found = []
    for procedure, items in made_up_gas(20, 600):
        ((rule, reading, checked),) = checked_items(procedure, items)
        (wanted,) = judge_checked([(rule, reading, checked)], working=False)
        columns = columns_of_checked([reading], [checked], [0])
        assert differences(judge_columns(rule, columns), 0, wanted.as_json()) == []
        found.append(wanted.verdict)
    assert min(map(found.count, set(found))) > 5
    assert len(set(found)) == 4
