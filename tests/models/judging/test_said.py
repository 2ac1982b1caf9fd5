"""How a verdict of a version 3 rule is said: units, factors, decisions.

Sentences to the letter, as a technician would say them of the numbers in each case.
"""

from typing import Any

import pytest

from models.errors import CriteriaError
from models.judging import Accuracy, Reading, Rule, Verdict
from models.judging.decide import decide
from models.judging.reading_check import check_reading
from models.judging.sentences.judgement import judgement_in_words
from models.judging.verdicts import Judgement
from tests.data.word_case import CITE, WordProcedure

HIGH = {"kind": "high", "value": 0.07, "cite": 0}
LOW = {"kind": "low", "value": 0.04, "cite": 0}


def said(
    text: str,
    typed: str,
    unit: str = "s",
    *,
    accuracy: Accuracy | None = None,
    conditions: dict[str, Any] | None = None,
    **rule: Any,
) -> Judgement:
    """Return the judgement of a reading by a rule in *unit*, typed in *typed*."""
    procedure = WordProcedure(name="made_up", title="Made up", units=(unit, typed))
    reading = Reading(
        key="r1", text=text, unit=typed, accuracy=accuracy, conditions=conditions or {}
    )
    made = Rule(procedure="made_up", unit=unit, cite=[CITE], **rule)
    assert Rule.from_json(made.to_json()).to_json() == made.to_json()
    checked = check_reading(procedure, text, typed)
    return judgement_in_words(decide([(made, reading, checked)])[0])


def test_times_are_said_in_the_unit_that_the_rule_declares() -> None:
    found = said(
        "52",
        "ms",
        said="ms",
        bounds=[HIGH, LOW],
        accuracy=Accuracy(fixed=0.2, unit="ms"),
    )
    assert found.verdict is Verdict.WITHIN
    assert found.working[:3] == [
        "U = ± 0.2309 ms (0 % of reading + 0.2 ms, divided by √3, k = 2): "
        "guarded acceptance.",
        "52.00 ms + U 0.2309 ms is at or below the maximum 70.00 ms.",
        "52.00 ms − U 0.2309 ms is at or above the minimum 40.00 ms.",
    ]


def test_numbers_stay_in_the_unit_of_the_rule() -> None:
    found = said("52", "ms", said="ms", bounds=[HIGH]).as_json()
    assert (found["corrected"], found["corrected_unit"]) == (0.052, "s")
    assert (found["limit_high"], found["said_unit"]) == (0.07, "ms")
    assert "said_unit" not in said("52", "ms", bounds=[HIGH]).as_json()


def test_what_a_meter_shows_is_said_in_the_unit_of_its_reference() -> None:
    found = said(
        "119.7",
        "as_shown",
        "as_shown",
        signed=True,
        said={"on": "reference_unit"},
        conditions={"reference_value": 120.0, "reference_unit": "V"},
        bounds=[
            {
                "kind": "near",
                "expected": {"on": "reference_value", "label": "reference"},
                "pct": 0.5,
                "cite": 0,
            }
        ],
    )
    assert found.working[1:4] == [
        "Expected the reference: 120.0 V, ± 0.6000 V (0.5 %).",
        "119.7 V is at or above the least allowed 119.4 V.",
        "119.7 V is at or below the most allowed 120.6 V.",
    ]
    assert found.as_json()["said_unit"] == "V"


def test_a_meter_without_a_unit_of_its_reference_is_said_without_one() -> None:
    rule = {"said": {"on": "reference_unit"}, "bounds": [{**HIGH, "value": 120.0}]}
    found = said("119.7", "as_shown", "as_shown", **rule)
    assert found.reason == "119.7 is at or below the maximum 120.0."
    assert "said_unit" not in found.as_json()


# Of a condition of 2.5 A: times, plus, and how the expected value is said.
EXPECTED: dict[str, tuple[dict[str, float], str]] = {
    "itself": (
        {},
        "Expected the injected current: 2.500 A, ± 0.1250 A (5 %).",
    ),
    "once": (
        {"times": 1.0},
        "Expected the injected current: 2.500 A, ± 0.1250 A (5 %).",
    ),
    "once, and more": (
        {"times": 1.0, "plus": 0.5},
        "Expected the injected current 2.5 A + 0.5 = 3.000 A, ± 0.1500 A (5 %).",
    ),
    "a computed factor": (
        {"times": 1 / 57.6},
        "Expected 0.01736 × the injected current 2.5 A = 0.04340 A, "
        "± 0.002170 A (5 %).",
    ),
    "a factor as written": (
        {"times": 2400.25},
        "Expected 2400.25 × the injected current 2.5 A = 6001 A, ± 300.0 A (5 %).",
    ),
    "a whole factor": (
        {"times": 14400.0},
        "Expected 14400 × the injected current 2.5 A = 36000 A, ± 1800 A (5 %).",
    ),
    "a long sum": (
        {"times": 2.0, "plus": 1 / 3},
        "Expected 2 × the injected current 2.5 A + 0.3333 = 5.333 A, ± 0.2667 A (5 %).",
    ),
}


@pytest.mark.parametrize(("more", "words"), EXPECTED.values(), ids=EXPECTED)
def test_a_factor_is_said_as_a_person_would(more: dict[str, float], words: str) -> None:
    expected = {"on": "injected_a", "unit": "A", "label": "injected current", **more}
    bound = {"kind": "near", "expected": expected, "pct": 5.0, "cite": 0}
    found = said("2.5", "A", "A", bounds=[bound], conditions={"injected_a": 2.5})
    assert found.working[1] == words


def test_a_condition_that_is_divided_is_said_with_its_unit() -> None:
    burden = {
        "name": "burden",
        "op": "over",
        "of": "applied_v",
        "of_unit": "V",
        "by": {"on": "reading", "unit": "A"},
        "unit": "Ohm",
        "label": "burden",
    }
    low = {"kind": "low", "of": "burden", "unit": "Ohm", "value": 100.0, "cite": 0}
    known = {"applied_v": 120.0}
    found = said("0.9", "A", "A", derive=[burden], bounds=[low], conditions=known)
    assert "The burden = 120 V / 0.9 A = 133.3 Ω." in found.working


def test_a_limit_of_another_value_says_of_what_it_is() -> None:
    known = {"motor_a": 5.2}
    high = {"kind": "high", "of": "motor_a", "unit": "A", "value": 5.0, "cite": 0}
    found = said("8", "s", bounds=[high], conditions=known)
    wanted = "Greatest current of the motor: 5.200 A is above the maximum 5.000 A."
    assert found.reason == wanted
    named = {**high, "label": "current of the pump"}
    found = said("8", "s", bounds=[named], conditions=known)
    assert found.reason.startswith("Current of the pump: 5.200 A")


NONE = "No accuracy is stated for the instrument: simple acceptance."
SIMPLE = "Simple acceptance: no accuracy of an instrument takes part."
# Decision, accuracy, words of version 3 in the rule: what is said of U.
DECISIONS: dict[str, tuple[str, Accuracy | None, bool, str]] = {
    "simple, and none is asked": ("simple", None, True, SIMPLE),
    "simple, and one is stated": ("simple", Accuracy(pct=1.0), True, SIMPLE),
    "guarded, and none is stated": ("guarded", None, True, NONE),
    "of an earlier version": ("simple", None, False, NONE),
}


@pytest.mark.parametrize("row", DECISIONS.values(), ids=DECISIONS)
def test_what_is_said_of_the_accuracy(
    row: tuple[str, Accuracy | None, bool, str],
) -> None:
    decision, accuracy, newer, words = row
    rule: dict[str, Any] = {"signed": True} if newer else {}
    found = said(
        "0.05", "s", accuracy=accuracy, decision=decision, bounds=[HIGH], **rule
    )
    assert found.working[0] == words


# What a rule says its unit is said in, and what is wrong with it.
WRONG: dict[str, tuple[Any, str]] = {
    "no unit": ("furlong", "'said'"),
    "of another quantity": ("A", "'said'"),
    "another zero": (3, "'said'"),
    "no condition": ({"on": ""}, "'said'"),
}


@pytest.mark.parametrize(("word", "words"), WRONG.values(), ids=WRONG)
def test_a_unit_that_does_not_fit_is_refused(word: Any, words: str) -> None:
    with pytest.raises(CriteriaError, match=words):
        Rule(procedure="made_up", unit="s", said=word, bounds=[HIGH], cite=[CITE])


def test_a_unit_of_saying_is_a_word_of_version_3() -> None:
    rule = Rule(procedure="made_up", unit="s", said="ms", bounds=[HIGH], cite=[CITE])
    assert rule.to_json()["v"] == 3
    with pytest.raises(CriteriaError, match="words of a later one"):
        Rule.from_json(rule.to_json() | {"v": 2})
