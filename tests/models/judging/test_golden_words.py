"""The words of version 3 against their golden cases, and these against a hand."""

import json
import math
from itertools import combinations
from typing import Any

import pytest

from models.judging import judge_checked
from models.judging.decide import decide
from models.judging.sentences.of_step import SENTENCES
from tests.data.golden_match import differences
from tests.data.golden_words import (
    CASES,
    GOLDEN,
    answers,
    checked_items,
    faults,
    items_of,
)
from tests.data.word_case import WordCase

WORDS: list[dict[str, Any]] = json.loads(GOLDEN.read_text("utf-8"))
BY_NAME = {golden["name"]: golden for golden in WORDS}
ids = [golden["name"] for golden in WORDS]


@pytest.mark.parametrize("golden", WORDS, ids=ids)
def test_core_gives_the_golden_answer(golden: dict[str, Any]) -> None:
    found = answers(golden["procedure"], golden["items"])
    assert differences(found["expected"], golden["expected"]) == []
    assert differences(found["steps"], golden["steps"]) == []


@pytest.mark.parametrize("golden", WORDS, ids=ids)
def test_every_golden_answer_is_what_a_hand_worked_out(golden: dict[str, Any]) -> None:
    assert len(golden["by_hand"]) == len(golden["items"])
    assert faults(golden) == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_rules_are_the_golden_rules(case: WordCase) -> None:
    assert items_of(case) == BY_NAME[case.name]["items"]
    assert {item["rule"]["v"] for item in items_of(case)} == {3}


@pytest.mark.parametrize("golden", WORDS, ids=ids)
def test_without_words_the_verdict_and_the_numbers_are_the_same(
    golden: dict[str, Any],
) -> None:
    checked = checked_items(golden["procedure"], golden["items"])
    judged = judge_checked(checked, working=False)
    for judgement, wanted in zip(judged, golden["expected"], strict=True):
        plain = {**wanted, "reason": "", "cite": [], "working": []}
        assert differences(judgement.as_json(), plain) == []


def test_every_step_has_its_sentence_and_takes_part_in_a_case() -> None:
    codes = {
        step["code"] for golden in WORDS for steps in golden["steps"] for step in steps
    }
    assert codes <= set(SENTENCES)
    of_version_3 = {
        "derived",
        "not_derived",
        "expected_value",
        "no_expected",
        "least",
        "most",
        "least_of_baseline",
        "most_of_baseline",
        "over_lowest",
        "odd_lowest",
        "expected",
        "carried",
        "not_carried",
        "unresolved",
    }
    assert of_version_3 <= codes


def test_steps_are_json_without_words_that_json_has_not() -> None:
    for golden in WORDS:
        for state in decide(checked_items(golden["procedure"], golden["items"])):
            for step in state.steps:
                text = json.dumps(step.as_json(), allow_nan=False)
                assert json.loads(text)["code"] == step.code


@pytest.mark.parametrize("golden", WORDS, ids=ids)
def test_the_limits_of_a_judgement_are_the_tightest_of_its_steps(
    golden: dict[str, Any],
) -> None:
    for judged, steps in zip(golden["expected"], golden["steps"], strict=True):
        own = [step for step in steps if "of" not in (step["part"] or {})]
        lows = [step["low"] for step in own if step["low"] is not None]
        highs = [step["high"] for step in own if step["high"] is not None]
        assert judged["limit_low"] == max(lows, default=None)
        assert judged["limit_high"] == min(highs, default=None)


# A law: U of a difference and of a quotient is no less than that of either part.
@pytest.mark.parametrize(("one", "other"), list(combinations((0.5, 1.0, 3.0), 2)))
def test_a_less_accurate_condition_never_narrows_u(one: float, other: float) -> None:
    golden = BY_NAME["over: 6.2 V at 5 A is 1.24 Ohm"]
    item = golden["items"][2]
    found = []
    for percent in (one, other):
        accuracy = {"injected_a": {"pct": percent, "fixed": 0.0, "unit": None}}
        reading = {**item["reading"], "conditions_accuracy": accuracy}
        checked = checked_items(golden["procedure"], [{**item, "reading": reading}])
        (state,) = decide(checked)
        derived = state.derived["z"]
        assert derived is not None
        assert derived.expanded is not None
        found.append(derived.expanded)
    assert found[0] < found[1]
    assert math.isclose(found[0], 1.24 * math.hypot(1.0, one) * 0.02 / math.sqrt(3.0))
