"""A rule is data: it survives storage, and an unknown word is refused."""

import json
from dataclasses import replace
from typing import Any

import pytest

from models.errors import CriteriaError, NotFoundError
from models.judging import Criteria, Rule
from models.judging.rules import applies
from models.procedures import PROCEDURES, Subject, compile_rule
from tests.models.judging.rules_made_up import CITE, high, low, rule

SUBJECTS: dict[str, tuple[str, Subject]] = {
    "insulation": (
        "insulation_resistance",
        Subject(gear="metal_clad", rated_kv=15, limit=2, limit_unit="GOhm"),
    ),
    "contact": ("contact_resistance", Subject(conductor="aluminium", limit=40)),
    "withstand": ("dielectric_withstand", Subject(gear="metal_enclosed", rated_kv=27)),
    "vacuum": ("vacuum_integrity", Subject(rated_kv=38, vacuum_dc_kv=50)),
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


# A part of a rule, and the version that brought its words.
OF_VERSION: dict[str, tuple[dict[str, Any], int]] = {
    "nothing new": ({}, 1),
    "a note": ({"notes": [{"say": "humidity", "high_pct": 75.0}]}, 2),
    "signed": ({"signed": True}, 3),
    "a unit": ({"unit": "V"}, 3),
    "a derived value": ({"derive": [{"name": "z", "op": "plus", "by": 1.0}]}, 3),
    "a gate from above": ({"gates": [{"on": "test_kv", "at_most": 5.0}]}, 3),
    "a gate of words": ({"gates": [{"on": "method", "one_of": ["dc"]}]}, 3),
    "a gate from below": ({"gates": [{"on": "test_kv", "at_least": 5.0}]}, 1),
    "a limit of a condition": (
        {"bounds": [{"kind": "low", "value": 1.0, "of": "test_kv"}]},
        3,
    ),
    "over the lowest": ({"bounds": [{"kind": "over_lowest", "by": 1.0}]}, 3),
    "the odd one": (
        {"bounds": [{"kind": "high_of_lowest", "times": 2.0, "odd_share": 0.5}]},
        3,
    ),
    "times the lowest": ({"bounds": [{"kind": "high_of_lowest", "times": 2.0}]}, 1),
    "a rated withstand": (
        {
            "bounds": [
                {
                    "kind": "withstand",
                    "level_kv": 27.0,
                    "hold_s": 60.0,
                    "over_pct": 5.0,
                    "rated_kv": 36.0,
                }
            ]
        },
        3,
    ),
}


@pytest.mark.parametrize(("parts", "version"), OF_VERSION.values(), ids=OF_VERSION)
def test_words_of_a_version_are_carried_by_it_and_refused_before(
    parts: dict[str, Any], version: int
) -> None:
    made = replace(rule(low(1)), **parts)
    written = json.loads(json.dumps(made.to_json()))
    assert written["v"] == version
    assert Rule.from_json(written).to_json() == written
    for earlier in range(1, version):
        with pytest.raises(CriteriaError, match="words of a later one"):
            Rule.from_json(written | {"v": earlier})


HUMID = {"say": "humidity", "high_pct": 75.0}


def test_a_rule_says_the_lowest_version_that_carries_it() -> None:
    assert "notes" not in rule(low(1)).to_json()
    assert rule(low(1)).to_json()["v"] == 1
    assert rule(low(1), notes=[HUMID]).to_json()["v"] == 2


def test_a_rule_with_notes_comes_back_from_json_as_it_went() -> None:
    written = json.dumps(rule(low(1), notes=[HUMID | {"cite": [0]}]).to_json())
    assert Rule.from_json(json.loads(written)).to_json() == json.loads(written)


def test_a_rule_of_the_second_version_need_not_have_notes() -> None:
    data = rule(low(1)).to_json() | {"v": 2}
    assert Rule.from_json(data).to_json() == rule(low(1)).to_json()


STRANGE: dict[str, tuple[dict[str, Any], str]] = {
    "a newer version": ({"v": 4}, "version 4; this program reads versions up to 3"),
    "no version": ({"v": None}, "version None"),
    "a bound without its number": (
        {"v": 3, "bounds": [{"kind": "over_lowest"}]},
        "bound 1 \\(over_lowest\\): 'by' is not what it has to be",
    ),
    "a bound with a word for a number": (
        {"v": 3, "bounds": [{"kind": "high", "value": "much"}]},
        "bound 1 \\(high\\): 'value' is not what it has to be",
    ),
    "an expected value of nothing": (
        {"v": 3, "bounds": [{"kind": "near", "expected": {"times": 2}}]},
        "bound 1 \\(near\\): 'expected' is not what it has to be",
    ),
    "points that fall": (
        {
            "v": 3,
            "bounds": [
                {"kind": "near", "expected": {"on": "a", "points": [[2, 1], [1, 1]]}}
            ],
        },
        "bound 1 \\(near\\): 'expected' is not what it has to be",
    ),
    "a signed comparison": (
        {"v": 3, "signed": True, "bounds": [{"kind": "high_of_lowest", "times": 2}]},
        "what may be negative has no such comparison",
    ),
    "a baseline of nothing": (
        {"v": 3, "bounds": [{"kind": "of_baseline", "value": 0}]},
        "bound 1 \\(of_baseline\\): 'value' is not what it has to be",
    ),
    "a derived word that is none": (
        {"v": 3, "derive": [{"name": "z", "op": "times", "by": 2}]},
        "a rule says 'times', which is none of",
    ),
    "a derived value twice": (
        {"v": 3, "derive": [{"name": "z", "op": "plus", "by": 2}] * 2},
        "derived value 2 \\(z\\): 'name' is not what it has to be",
    ),
    "a derived value of one number": (
        {"v": 3, "derive": [{"name": "z", "op": "over"}]},
        "derived value 1 \\(z\\): 'by' is not what it has to be",
    ),
    "a gate on nothing": ({"gates": [{"at_least": 1}]}, "gate 1: 'on' is not"),
    "a gate with a word for a number": (
        {"gates": [{"on": "test_kv", "at_least": "much"}]},
        "gate 1: 'at_least' is not what it has to be",
    ),
    "a note in the first version": ({"notes": [HUMID]}, "words of a later one"),
    "an unknown note": (
        {"v": 2, "notes": [HUMID, {"say": "weather"}]},
        "note 2 says 'weather'",
    ),
    "a note that says nothing": ({"v": 2, "notes": [{}]}, "note 1 says 'None'"),
    "a note without its number": (
        {"v": 2, "notes": [{"say": "humidity"}]},
        "note 1 \\(humidity\\): 'high_pct' is not what it has to be",
    ),
    "a note whose number is none": (
        {"v": 2, "notes": [HUMID | {"high_pct": float("nan")}]},
        "note 1 \\(humidity\\): 'high_pct' is not what it has to be",
    ),
    "a note whose table falls": (
        {
            "v": 2,
            "notes": [
                {"say": "altitude", "altitude_m": 9.0, "points": [[2, 1], [1, 1]]}
            ],
        },
        "note 1 \\(altitude\\): 'points' is not what it has to be",
    ),
    "a note with a band of another kind": (
        {
            "v": 2,
            "notes": [
                {
                    "say": "polarization",
                    "limit_mohm": 1.0,
                    "limit_c": 1.0,
                    "bands": [{"word": "good", "from": 1.0}],
                }
            ],
        },
        "note 1 \\(polarization\\): 'bands' is not what it has to be",
    ),
    "a note with a word too many": (
        {"v": 2, "notes": [HUMID | {"low_pct": 10}]},
        "note 1 \\(humidity\\): 'low_pct' is not known",
    ),
    "a note whose source is not there": (
        {"v": 2, "notes": [HUMID | {"cite": [0, 1]}]},
        "note 1 \\(humidity\\): there is no source 1",
    ),
    "an unknown correction": ({"correction": {"by": "magic"}}, "'magic'"),
    "a correction without its table": (
        {"correction": {"by": "factor", "reference_c": 20.0}},
        "correction \\(factor\\): 'points' is not what it has to be",
    ),
    "a correction whose table falls": (
        {"correction": {"by": "factor", "reference_c": 20, "points": [[2, 1], [1, 1]]}},
        "correction \\(factor\\): 'points' is not what it has to be",
    ),
    "a metal without its temperature": (
        {"correction": {"by": "metal", "reference_c": 20.0}},
        "correction \\(metal\\): 'k' is not what it has to be",
    ),
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
