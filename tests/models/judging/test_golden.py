"""The core against the golden cases, and the golden cases against a hand."""

import json
from typing import Any

import pytest

from models.procedures import PROCEDURES
from tests.data.golden_case import Case, disagreements
from tests.data.golden_cases import CASES, GOLDEN, items_of, judge_items
from tests.data.golden_match import differences
from tests.data.made_up_rules import SUBJECTS, USUAL

# What readers answered while there was only the first version of a rule: it holds as
# long as records of that time are kept.
FIRST_VERSION: list[dict[str, Any]] = json.loads(
    GOLDEN.with_name("golden_v1.json").read_text("utf-8")
)
GOLDEN_CASES: list[dict[str, Any]] = json.loads(GOLDEN.read_text("utf-8"))
BY_NAME = {golden["name"]: golden for golden in GOLDEN_CASES}


@pytest.mark.parametrize("golden", GOLDEN_CASES, ids=lambda golden: golden["name"])
def test_core_gives_the_golden_answer(golden: dict[str, Any]) -> None:
    assert differences(judge_items(golden["items"]), golden["expected"]) == []


@pytest.mark.parametrize("golden", FIRST_VERSION, ids=lambda golden: golden["name"])
def test_a_rule_of_the_first_version_is_judged_as_it_always_was(
    golden: dict[str, Any],
) -> None:
    assert {item["rule"]["v"] for item in golden["items"]} == {1}
    assert differences(judge_items(golden["items"]), golden["expected"]) == []


@pytest.mark.parametrize("golden", GOLDEN_CASES, ids=lambda golden: golden["name"])
def test_without_words_the_verdict_and_the_numbers_are_the_same(
    golden: dict[str, Any],
) -> None:
    wanted = [
        {**judged, "reason": "", "cite": [], "working": []}
        for judged in golden["expected"]
    ]
    assert differences(judge_items(golden["items"], working=False), wanted) == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_rules_compile_to_the_golden_rules(case: Case) -> None:
    assert items_of(case) == BY_NAME[case.name]["items"]


@pytest.mark.parametrize(
    "golden",
    [golden for golden in GOLDEN_CASES if "by_hand" in golden],
    ids=lambda golden: golden["name"],
)
def test_golden_answer_is_what_was_worked_out_by_hand(golden: dict[str, Any]) -> None:
    pairs = zip(golden["by_hand"], golden["expected"], strict=True)
    assert [line for pair in pairs for line in disagreements(*pair)] == []


def test_file_and_tables_hold_the_same_cases() -> None:
    assert [golden["name"] for golden in GOLDEN_CASES] == [case.name for case in CASES]
    assert len(BY_NAME) == len(CASES)


def test_every_procedure_and_verdict_occurs() -> None:
    """What is only observed, as expected or not, is never marginal or unjudged."""
    seen, measured, guarded = set(), set(), set()
    for golden in GOLDEN_CASES:
        for item, judged in zip(golden["items"], golden["expected"], strict=True):
            rule = item["rule"]
            seen.add((rule["procedure"], judged["verdict"]))
            if any(bound["kind"] != "expected" for bound in rule["bounds"]):
                measured.add(rule["procedure"])
            if _may_be_marginal(rule):
                guarded.add(rule["procedure"])
    wanted = {
        (name, verdict) for name in PROCEDURES for verdict in ("within", "outside")
    }
    wanted |= {(name, "unjudged") for name in measured}
    wanted |= {(name, "marginal") for name in guarded}
    assert wanted - seen == set()


def _may_be_marginal(rule: dict[str, Any]) -> bool:
    """Return whether it knows a U, or a level that is not to be exceeded by far."""
    kinds = {bound["kind"] for bound in rule["bounds"]}
    return "withstand" in kinds or (
        rule["decision"] != "simple" and kinds != {"expected"} and kinds != set()
    )


@pytest.mark.parametrize("name", PROCEDURES)
def test_every_procedure_has_made_up_rules(name: str) -> None:
    """Without them no law is tried on it: tests/data/made_up_rules.py."""
    assert name in SUBJECTS
    assert name in USUAL or not PROCEDURES[name].units
