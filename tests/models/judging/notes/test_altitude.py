"""The note on external insulation high above the sea."""

import pytest

from models.criteria import load
from models.judging import Criteria, Reading
from models.judging.notes import altitude
from models.judging.notes.placing import placed
from models.judging.rules import rests_on_memory
from models.procedures import Subject, compile_rule, judge
from tests.models.judging.notes.noted import said

# By hand: between 1500 m (0.95) and 3000 m (0.80) a tenth of the way is 0.015.
CASES: dict[str, tuple[float | None, str | None]] = {
    "not known": (None, None),
    "below the sea": (-400.0, None),
    "at the normal limit": (1000.0, None),
    "a little above it": (1250.0, "(1500 − 1000) = 0.9750 of its rated voltage"),
    "at a row": (1500.0, "at 1500 m external air insulation holds 0.95 of its rated"),
    "between rows": (
        2000.0,
        "0.95 + (0.8 − 0.95) × (2000 − 1500) / (3000 − 1500) = 0.9000 of its",
    ),
    "at the last row": (3000.0, "holds 0.8 of its rated voltage"),
    "above the table": (3001.0, "3001 m is above the last row of the table, 3000 m"),
}


@pytest.mark.parametrize(("altitude_m", "wanted"), CASES.values(), ids=CASES)
def test_what_is_said(
    criteria: Criteria, altitude_m: float | None, wanted: str | None
) -> None:
    lines = said(altitude.make(criteria, altitude_m))
    assert len(lines) == (wanted is not None)
    assert wanted is None or wanted in lines[0]


def test_the_level_is_never_said_to_rise(criteria: Criteria) -> None:
    (line,) = said(altitude.make(criteria, 2000.0))
    assert "The field test level is not raised for it" in line


def test_what_is_beside_a_verdict_does_not_rest_it_on_memory() -> None:
    """The level is read in a published copy, the altitude's table is recalled."""
    subject = Subject(gear="metal_clad", rated_kv=15.0, altitude_m=2000.0)
    rule = compile_rule("dielectric_withstand", subject, load())
    conditions = {"supply": "ac", "test_kv": 27.0, "duration_s": 60.0}
    (judged,) = judge([(rule, Reading(key="r", text="held", conditions=conditions))])
    recalled = [one for one in judged.cite if one["provenance"] == "memory"]
    assert [one["table"] for one in recalled] == ["altitude table"]
    assert not rests_on_memory(judged.cite)


def test_a_source_of_the_verdict_counts_although_a_note_cites_it_too(
    criteria: Criteria,
) -> None:
    made = altitude.make(criteria, 2000.0)
    assert made is not None
    (source,) = made.sources
    cites = [dict(source)]
    (note,) = placed(cites, made)
    assert note["cite"] == [0]
    assert rests_on_memory(cites)
