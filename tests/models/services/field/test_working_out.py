"""A verdict's words are those of the day: as its group stood while it held."""

import pytest

from models.judging import Rule
from models.schema import Reading
from models.services.field.judge_card import bodies
from tests.scenario import CR, IR, Work


def test_words_are_those_of_the_core(complete: Work) -> None:
    for label, procedure in (("bus", IR), ("breaker 52", CR)):
        facts = complete.facts(label, procedure)
        groups: dict[str, list[Reading]] = {}
        for reading in facts.current:
            groups.setdefault(reading.point.group, []).append(reading)
        for rows in groups.values():
            said = bodies(rows, [Rule.from_json(r.rule) for r in rows])
            assert [facts.say(r.judgement) for r in rows] == said


def test_each_verdict_is_said_with_the_group_of_its_time(confirmed: Work) -> None:
    """44 is compared with 30 first, with 20 later, and once more after a retest."""
    work = confirmed
    at = {"temperature_c": 20, "test_current_a": 100}
    work.read("breaker 52", CR, "30.0", "44.0", conditions=at)
    work.read("breaker 52", CR, "20.0", conditions=at)
    third = work.facts("breaker 52", CR).readings[-1]
    work.again("breaker 52", CR, third.id, "40.0", conditions=at)
    facts = work.facts("breaker 52", CR)
    said = [
        " ".join(facts.say(judgement)["working"])
        for reading in facts.readings
        if reading.text == "44.0"
        for judgement in reading.judgements
    ]
    lowest = [[w for w in ("lowest 30.00", "lowest 20.00") if w in one] for one in said]
    assert [verdicts(work, "44.0"), lowest] == [
        ["within", "outside", "within"],
        [["lowest 30.00"], ["lowest 20.00"], ["lowest 30.00"]],
    ]
    superseded = next(r for r in facts.readings if r.id == third.id)
    assert "lowest of its group" in facts.say(superseded.judgement)["reason"]


def verdicts(work: Work, text: str) -> list[str]:
    return [
        judgement.verdict
        for reading in work.facts("breaker 52", CR).readings
        if reading.text == text
        for judgement in reading.judgements
    ]


def test_verdict_and_numbers_are_those_that_were_stored(complete: Work) -> None:
    facts = complete.facts("bus", IR)
    judgement = facts.current[0].judgement
    for name in ("verdict", "corrected", "limit_low", "limit_high", "uncertainty"):
        assert facts.say(judgement)[name] == getattr(judgement, name)


def test_memory_is_asked_for_the_rules_that_have_some(
    complete: Work, monkeypatch: pytest.MonkeyPatch
) -> None:
    facts = complete.facts("breaker 52", CR)
    monkeypatch.setattr("models.services.field.working_out.bodies", None)
    assert not any(facts.say.recalled(r.judgement) for r in facts.current)
