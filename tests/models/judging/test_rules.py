"""A rule is data: it survives storage, and an unknown word is refused."""

import json
from typing import Any

import pytest

from models.errors import CriteriaError, NotFoundError
from models.judging import PROCEDURES, Criteria, Rule, Subject, compile_rule
from models.judging.rules import applies
from tests.models.judging.rules_made_up import CITE, high, low, rule

SUBJECTS: dict[str, tuple[str, Subject]] = {
    "insulation": (
        "insulation_resistance",
        Subject(gear="metal_clad", rated_kv=15, limit=2, limit_unit="GOhm"),
    ),
    "contact": ("contact_resistance", Subject(conductor="aluminium", limit=40)),
    "withstand": ("dielectric_withstand", Subject(gear="metal_enclosed", rated_kv=27)),
    "vacuum": ("vacuum_integrity", Subject(rated_kv=38, level_dc_kv=50)),
    "timing": (
        "relay_timing",
        Subject(curve="ieee_very_inverse", pickup_a=5, time_dial=2),
    ),
    "nothing known": ("relay_timing", Subject()),
}


@pytest.mark.parametrize(("procedure", "subject"), SUBJECTS.values(), ids=SUBJECTS)
def test_a_rule_comes_back_from_json_as_it_went(
    criteria: Criteria, procedure: str, subject: Subject
) -> None:
    written = json.dumps(compile_rule(procedure, subject, criteria).to_json())
    assert Rule.from_json(json.loads(written)).to_json() == json.loads(written)


@pytest.mark.parametrize(("procedure", "subject"), SUBJECTS.values(), ids=SUBJECTS)
def test_every_cite_that_a_rule_points_at_exists(
    criteria: Criteria, procedure: str, subject: Subject
) -> None:
    made = compile_rule(procedure, subject, criteria)
    pointed = [b["cite"] for b in made.bounds]
    pointed += [b["tolerance_cite"] for b in made.bounds if "tolerance_cite" in b]
    pointed += [made.correction["cite"]] if "cite" in made.correction else []
    assert all(0 <= index < len(made.cite) for index in pointed)


def test_every_procedure_compiles_for_a_subject_that_nothing_is_known_of(
    criteria: Criteria,
) -> None:
    for name in PROCEDURES:
        assert compile_rule(name, Subject(), criteria).procedure == name


def test_an_unknown_procedure_is_not_found(criteria: Criteria) -> None:
    with pytest.raises(NotFoundError, match="no procedure made_up"):
        compile_rule("made_up", Subject(), criteria)


STRANGE: dict[str, tuple[dict[str, Any], str]] = {
    "another version": ({"v": 2}, "version 2"),
    "no version": ({"v": None}, "version None"),
    "an unknown correction": ({"correction": {"by": "magic"}}, "'magic'"),
    "an unknown bound": ({"bounds": [{"kind": "about", "cite": 0}]}, "'about'"),
    "an unknown decision": ({"decision": "lenient"}, "'lenient'"),
    "an unknown provenance": ({"cite": [CITE | {"provenance": "rumour"}]}, "'rumour'"),
}


@pytest.mark.parametrize(("change", "said"), STRANGE.values(), ids=STRANGE)
def test_a_word_that_this_reader_does_not_know_is_refused(
    change: dict[str, Any], said: str
) -> None:
    data = rule(low(1), high(2)).to_json() | change
    with pytest.raises(CriteriaError, match=said):
        Rule.from_json(data)


APPLIES: dict[str, tuple[dict[str, Any], dict[str, Any], bool]] = {
    "no condition": ({}, {}, True),
    "an empty condition": ({"when": {}}, {}, True),
    "equal": ({"when": {"supply": "dc"}}, {"supply": "dc"}, True),
    "another": ({"when": {"supply": "dc"}}, {"supply": "ac"}, False),
    "not given": ({"when": {"supply": "dc"}}, {}, False),
    "one of two": (
        {"when": {"supply": "dc", "method": "dc"}},
        {"supply": "dc"},
        False,
    ),
}


@pytest.mark.parametrize(("part", "given", "wanted"), APPLIES.values(), ids=APPLIES)
def test_applies(part: dict[str, Any], given: dict[str, Any], wanted: bool) -> None:
    assert applies(part, given) is wanted
