"""A rule is stored once, under the digest of its canonical JSON."""

import hashlib
import json

import pytest
from sqlalchemy import func, select

from models.errors import CriteriaError
from models.schema import Point, StoredRule
from models.services.keeping.rules import (
    keep_rules,
    read_rule,
    rule_digest,
    stored_rules,
)
from tests.scenario import IR, Work


def test_the_digest_is_over_the_canonical_json() -> None:
    rule = {"b": [1, 2.5], "a": "Ω"}
    text = '{"a":"Ω","b":[1,2.5]}'
    assert json.loads(text) == rule
    assert rule_digest(rule) == hashlib.sha256(text.encode()).hexdigest()


def test_a_rule_is_kept_once(opened: Work) -> None:
    rule = opened.card("bus", IR).points[0].rule
    before = opened.session.scalar(select(func.count()).select_from(StoredRule))
    keep_rules(opened.session, [rule, dict(rule), {**rule, "decision": "simple"}])
    after = opened.session.scalar(select(func.count()).select_from(StoredRule))
    assert (before or 0) + 1 == after


def test_points_share_their_rules(opened: Work) -> None:
    points = opened.session.scalar(select(func.count()).select_from(Point))
    rules = opened.session.scalar(select(func.count()).select_from(StoredRule))
    assert points is not None
    assert rules is not None
    assert rules * 3 < points


def test_what_is_not_there_is_left_out(opened: Work) -> None:
    digest = opened.card("bus", IR).points[0].rule_digest
    found = stored_rules(opened.session, [digest, "0" * 64])
    assert [row.digest for row in found] == [digest]


def test_a_rule_of_another_vocabulary_is_not_read() -> None:
    with pytest.raises(CriteriaError):
        read_rule(StoredRule(digest="", body={"v": 99, "bounds": []}))
