"""The accuracy limit factor of a P class at the burden that is there."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.wording import figure, plain
from models.words import say as sentence


def make(
    of: str,
    times: float,
    rct_ohm: float,
    burden_ohm: float,
    demand: float | None,
    source: Mapping[str, Any],
) -> Made:
    """Return the note on the burden *of*: rated factor, winding, rated burden.

    *demand*: so many times rated current the fault asks for; None: not known.
    """
    note = {
        "say": "limit_factor",
        "of": of,
        "times": times,
        "rct_ohm": rct_ohm,
        "burden_ohm": burden_ohm,
        "demand": demand,
    }
    return Made(note, [dict(source)])


def limit_factor(
    times: float, rct_ohm: float, burden_ohm: float, there_ohm: float
) -> float:
    """Return ALF (Rct + Rb) / (Rct + burden): as it is widely used (from memory)."""
    return times * (rct_ohm + burden_ohm) / (rct_ohm + there_ohm)


def say(state: State, note: Note) -> Iterator[str]:
    """Say it, and what the fault asks for; nothing without a burden."""
    burden = state.derived.get(note["of"])
    if burden is None or not burden.exact or note["rct_ohm"] + burden.shown <= 0:
        return
    rct, rated = note["rct_ohm"], note["burden_ohm"]
    yield sentence(
        "limit_factor",
        factor=figure(limit_factor(note["times"], rct, rated, burden.shown)),
        times=plain(note["times"]),
        rct=figure(rct),
        rated=figure(rated),
        burden=figure(burden.shown),
    )
    if note["demand"] is not None:
        yield sentence("limit_factor.demand", demand=figure(note["demand"]))
