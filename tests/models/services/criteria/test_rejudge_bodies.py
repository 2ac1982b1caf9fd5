"""Judging alike groups once says what judging each by itself says."""

import hashlib
import json
from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest

from models.analysis.stored_readings import StoredReading
from models.judging import Rule
from models.services.criteria import rejudge_bodies
from models.services.criteria.rejudge import judgement_digest
from models.services.criteria.rejudge_bodies import Bodies
from models.services.criteria.rejudge_findings import CardRule, Touched
from models.services.field.judge_card import bodies, stored_part
from models.services.keeping.rules import rule_digest
from tests.scenario import CR, Work

WARM: dict[str, Any] = {"temperature_c": 30, "test_current_a": 100}
COOL: dict[str, Any] = {"temperature_c": 10, "test_current_a": 100}
UNKNOWN: dict[str, Any] = {}
FINE: dict[str, Any] = {"pct": 0.5, "fixed": 0.2, "unit": "uOhm"}

# A pole of three each: what differs from 39 µΩ, warm, without an accuracy.
GROUPS: dict[str, list[dict[str, Any]]] = {
    "alike": [{}, {}, {}],
    "another text": [{}, {"text": "39.5"}, {}],
    "another order": [{"text": "39.5"}, {}, {}],
    "another unit": [{}, {"unit": "mOhm"}, {}],
    "another temperature": [{}, {"conditions": COOL}, {}],
    "another accuracy": [{}, {"accuracy": FINE}, {}],
    "out of calibration": [{}, {"calibrated": False}, {}],
    "fewer": [{}, {}],
}


@pytest.fixture
def rule(confirmed: Work) -> CardRule:
    data = confirmed.card("breaker 52", CR).points[0].rule
    return CardRule(data, rule_digest(data), Rule.from_json(data))


def touched(to: CardRule, **differs: Any) -> Touched:
    reading = StoredReading(
        *(uuid4(), uuid4(), uuid4(), "poles", "39", "uOhm", 39.0, 39.0, None),
        *(WARM, UNKNOWN, True, "", 1, "within", None, None),
    )
    return Touched(reading._replace(**differs), to, "within", None, None)


def by_itself(group: list[Touched]) -> list[dict[str, Any]]:
    return bodies([one.reading for one in group], [one.to.rule for one in group])


@pytest.mark.parametrize("kept", [1, 4096])
def test_each_group_is_judged_as_by_itself(
    rule: CardRule, kept: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rejudge_bodies, "KEPT", kept)
    say = Bodies()
    groups = [[touched(rule, **one) for one in given] for given in GROUPS.values()]
    said = [say(group) for group in [*groups, *groups]]
    assert said == [by_itself(group) for group in groups] * 2
    distinct = {json.dumps(one) for one in said}
    assert len(distinct) == len(GROUPS)


def test_another_rule_is_another_judgement(rule: CardRule) -> None:
    data = json.loads(json.dumps(rule.data))
    for gate in data["gates"]:
        if "at_least" in gate:
            gate["at_least"] = 150.0
    other = replace(rule, data=data, rule=Rule.from_json(data))
    say = Bodies()
    (first,), (second,) = say([touched(rule)]), say([touched(other)])
    assert [first] == by_itself([touched(rule)])
    assert [second] == by_itself([touched(other)])
    assert first["verdict"] != second["verdict"]


def test_alike_groups_share_what_is_said(rule: CardRule) -> None:
    say = Bodies()
    (first,), (second,) = say([touched(rule)]), say([touched(rule)])
    assert first is second


def test_the_digest_is_that_of_one_canonical_text(rule: CardRule) -> None:
    (body,) = Bodies()([touched(rule)])
    row = {
        "reading_id": uuid4(),
        "seq": 2,
        **stored_part(body),
        "rule_digest": rule.digest,
        "after_turnover": False,
    }
    said = list(row.values())
    said[0] = str(said[0])
    text = json.dumps(said, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    assert judgement_digest(row) == hashlib.sha256(text.encode()).hexdigest()
