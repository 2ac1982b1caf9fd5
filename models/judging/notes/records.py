"""Records of a breaker's shot: marks of a coil's current, figures of the travel."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from models.judging.notes.placing import Made
from models.judging.notes.rows import row_of, unreadable
from models.judging.notes.vocabulary import Note
from models.judging.record_marks import (
    MARKS,
    coil_marks,
    marks_in_force,
    travel_figures,
)
from models.judging.series import COIL_CURRENT, TRAVEL
from models.judging.state import State
from models.judging.wording import figure, plain
from models.words import say as sentence


def make_marks() -> Made:
    """Return the note that says the marks of a coil's current."""
    return Made({"say": "coil_marks"}, ())


def make_travel(from_mm: float | None, to_mm: float | None) -> Made:
    """Return the note on a record of the travel, with the zone of the speed in mm."""
    known = from_mm is not None and to_mm is not None and from_mm < to_mm
    zone = (from_mm, to_mm) if known else (None, None)
    return Made({"say": "travel", "from_mm": zone[0], "to_mm": zone[1]}, ())


def say_marks(state: State, _note: Note) -> Iterator[str]:
    """Say when each mark lies, and which a person set; nothing without a row."""
    steps = row_of(state, COIL_CURRENT.name)
    if steps is None:
        return
    if not steps:
        yield unreadable(COIL_CURRENT.name)
        return
    found = coil_marks([(step.at, step.value.bound) for step in steps])
    marks = marks_in_force(found, state.conditions)
    said = [
        sentence(
            "marks.set" if f"mark_{mark}_ms" in state.conditions else "marks.found",
            mark=sentence(f"mark.{mark}"),
            at=figure(marks[mark]),
        )
        for mark in MARKS
        if mark in marks
    ]
    yield sentence("marks", marks=", ".join(said)) if said else sentence("marks.none")
    if any(marks[later] < marks[mark] for mark, later in pairwise(marks)):
        yield sentence("marks.order", order=", ".join(_named(marks)))


def _named(marks: Iterable[str]) -> Iterator[str]:
    return (sentence(f"mark.{mark}") for mark in marks)


def say_travel(state: State, note: Note) -> Iterator[str]:
    """Say stroke, overtravel and rebound, and the mean speed over the zone."""
    steps = row_of(state, TRAVEL.name)
    if steps is None:
        return
    if not steps:
        yield unreadable(TRAVEL.name)
        return
    from_mm, to_mm = note["from_mm"], note["to_mm"]
    zone = None if from_mm is None else (from_mm, to_mm)
    found = travel_figures([(step.at, step.value.bound) for step in steps], zone)
    if found is None:
        yield sentence("travel.still")
        return
    yield sentence(
        "travel",
        stroke=figure(found.stroke),
        overtravel=figure(found.overtravel),
        rebound=figure(found.rebound),
    )
    if zone is not None:
        parts = {"first": plain(from_mm), "last": plain(to_mm)}
        if found.speed is None:
            yield sentence("travel.no_speed", **parts)
        else:
            yield sentence("travel.speed", **parts, speed=figure(found.speed))
