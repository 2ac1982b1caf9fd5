"""Where notes stand in a working, and that they change nothing else."""

from models.judging.notes.speak import SPEAKERS
from models.judging.notes.vocabulary import NEEDS
from models.procedures import judge
from tests.models.judging.rules_made_up import CITE, low, read, rule

HUMID = {"say": "humidity", "high_pct": 75.0}
SOURCE = CITE | {"document": "Another document"}


def test_notes_stand_after_the_findings_and_before_the_sources() -> None:
    noted = rule(low(1), notes=[HUMID])
    (judged,) = judge([(noted, read("2", humidity_pct=80.0))])
    assert [line.split(" ")[0] for line in judged.working] == [
        "No",  # accuracy
        "2.000",
        "Humidity:",
        "Source:",
    ]


def test_a_note_cites_its_source_only_where_it_says_something() -> None:
    noted = rule(low(1), notes=[HUMID | {"cite": [1]}], cites=[CITE, SOURCE])
    (dry,) = judge([(noted, read("2", humidity_pct=10.0))])
    (humid,) = judge([(noted, read("2", humidity_pct=80.0))])
    assert dry.cite == [CITE]
    assert humid.cite == [CITE, SOURCE]
    assert "Another document" in humid.working[-1]


def test_a_note_is_said_only_when_its_condition_holds() -> None:
    noted = rule(low(1), notes=[HUMID | {"when": {"supply": "dc"}}])
    (ac,) = judge([(noted, read("2", humidity_pct=80.0, supply="ac"))])
    (dc,) = judge([(noted, read("2", humidity_pct=80.0, supply="dc"))])
    assert len(dc.working) == len(ac.working) + 1


def test_notes_are_said_of_what_cannot_be_judged() -> None:
    gate = {"on": "temperature_c", "known": True, "reason": "Not known."}
    noted = rule(low(1), notes=[HUMID], gates=[gate])
    (judged,) = judge([(noted, read("2", humidity_pct=80.0))])
    assert judged.verdict == "unjudged"
    assert any(line.startswith("Humidity: ") for line in judged.working)


def test_every_word_of_the_vocabulary_has_a_speaker() -> None:
    assert SPEAKERS.keys() == NEEDS.keys()
