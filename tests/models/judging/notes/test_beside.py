"""Sentences that stand beside a verdict: doubtful figures, and other prints."""

from typing import Any

import pytest

from models.criteria import load
from models.errors import CriteriaError
from models.judging import Rule
from models.judging.notes import beside
from models.procedures import Subject, compile_rule
from tests.models.judging.notes.noted import said

DOUBT = "beside.doubtful_row"
PARTS = {"low": "10 °C", "high": "20 °C", "doubt": "a slip of the pen"}
BETWEEN: dict[str, tuple[float | None, bool]] = {
    "below": (9.9, False),
    "at the lower end": (10.0, False),
    "between": (15.0, True),
    "at the upper end": (20.0, False),
    "not known": (None, False),
}


@pytest.mark.parametrize(("at", "speaks"), BETWEEN.values(), ids=BETWEEN)
def test_it_is_said_between_its_ends_only(at: float | None, speaks: bool) -> None:
    note = beside.make(DOUBT, PARTS, [], on="air_temperature_c", above=10.0, below=20.0)
    given = {} if at is None else {"air_temperature_c": at}
    lines = said(note, temperature_c=20.0, test_kv=2.5, **given)
    assert lines == (
        [
            "Between 10 °C and 20 °C the factor rests on a doubtful figure: a slip of "
            "the pen."
        ]
        if speaks
        else []
    )


def test_without_a_condition_it_is_always_said() -> None:
    assert len(said(beside.make(DOUBT, PARTS, []))) == 1


WRONG: dict[str, dict[str, Any]] = {
    "a sentence that the catalogue has not": {"sentence": "beside.weather"},
    "a part that is no text": {"parts": {"low": 10}},
    "a part that a package would read as a number": {"parts": {"low": "10"}},
    "an end that is no number": {"on": "test_kv", "above": "10"},
}


@pytest.mark.parametrize("words", WRONG.values(), ids=WRONG)
def test_what_is_no_such_note(words: dict[str, Any]) -> None:
    note = {"say": "beside", "sentence": DOUBT, "parts": PARTS, **words}
    with pytest.raises(CriteriaError, match="note 1 \\(beside\\)"):
        Rule(procedure="one", unit="V", notes=[note])


def test_a_rule_with_one_is_of_version_3() -> None:
    note = {"say": "beside", "sentence": DOUBT, "parts": PARTS}
    rule = Rule(procedure="one", unit="V", notes=[note])
    assert rule.version == 3
    with pytest.raises(CriteriaError, match="words of a later one"):
        Rule.from_json(rule.to_json() | {"v": 2})


# Rated kV -> what the older print has, from memory (ANSI/NETA ATS, Table 100.1).
OTHER: dict[float, str | None] = {
    4.76: "1000 MΩ at 2.5 kV",
    8.25: "2000 MΩ at 2.5 kV",
    15.0: None,
    27.0: "20000 MΩ at 5 kV",
    38.0: "100000 MΩ at 15 kV",
    48.3: "100000 MΩ at 15 kV",
}


@pytest.mark.parametrize(("rated_kv", "older"), OTHER.items())
def test_where_the_older_print_differs_it_is_named(
    rated_kv: float, older: str | None
) -> None:
    subject = Subject(gear="metal_clad", rated_kv=rated_kv)
    rule = compile_rule("insulation_resistance", subject, load())
    parts = [
        note["parts"]
        for note in rule.notes
        if note.get("sentence") == "beside.other_print"
    ]
    found = [f"{one['other']} at {one['other_kv']}" for one in parts]
    assert found == ([] if older is None else [older])


@pytest.mark.parametrize(("insulation", "pct"), [("solid", "2.0 %"), ("oil", "5.9 %")])
def test_the_factor_at_15_degrees_is_in_doubt(insulation: str, pct: str) -> None:
    subject = Subject(gear="metal_clad", rated_kv=15.0, insulation=insulation)
    rule = compile_rule("insulation_resistance", subject, load())
    (note,) = (one for one in rule.notes if one.get("sentence") == DOUBT)
    assert (note["above"], note["below"]) == (10.0, 20.0)
    assert f"up to {pct} too high, in favour of passing" in note["parts"]["doubt"]
