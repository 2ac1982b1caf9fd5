"""Leakage over the steps of a dc withstand: whether it rises as the voltage does."""

from collections.abc import Iterator
from itertools import starmap

from models.judging.near import at_least
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import row_of, unreadable
from models.judging.notes.vocabulary import Note
from models.judging.series import (
    HELD_LEAKAGE,
    LEAKAGE,
    Step,
    apparent_resistance_gohm,
)
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import amount, plain, tenths
from models.words import say as sentence


def make(criteria: Criteria, condition: str) -> Made:
    """Return the note with the fall of the apparent resistance from which one stops.

    *condition* says where the voltage is dc.
    """
    fall_pct, source = value_of(
        criteria.table("insulation_cautions"),
        "dc withstand: fall of the apparent resistance",
    )
    note = {"say": "leakage", "fall_pct": fall_pct, "when": {condition: "dc"}}
    return Made(note, [source])


def say(state: State, note: Note) -> Iterator[str]:
    """Say the apparent resistance of each step; nothing without steps."""
    steps = row_of(state, LEAKAGE.name)
    if steps is None:
        return
    if not steps:
        yield unreadable(LEAKAGE.name)
        return
    known = [
        (step, gohm)
        for step in steps
        if (gohm := apparent_resistance_gohm(step)) is not None
    ]
    if known:
        yield sentence("leakage.resistance", steps="; ".join(starmap(_step, known)))
    if len(known) < 2:
        yield sentence("leakage.two", series=sentence("series.leakage"))
        return
    yield _compared([gohm for _, gohm in known], note["fall_pct"])


def make_held() -> Made:
    """Return the note on the current while the level is held (common practice)."""
    return Made({"say": "held_leakage"}, ())


def say_held(state: State, _note: Note) -> Iterator[str]:
    """Say whether the current falls while the level is held; nothing without a row."""
    steps = row_of(state, HELD_LEAKAGE.name)
    if steps is None:
        return
    if not steps:
        yield unreadable(HELD_LEAKAGE.name)
        return
    known = [step for step in steps if step.value.exact]
    if len(known) < 2:
        yield sentence("leakage.two", series=sentence("series.held_leakage"))
        return
    first, last = known[0], known[-1]
    rises = last.value.bound > first.value.bound
    yield sentence(
        "held_leakage.rises" if rises else "held_leakage.falls",
        first=first.text,
        first_min=plain(first.at),
        last=last.text,
        last_min=plain(last.at),
    )


def _step(step: Step, gohm: float) -> str:
    return sentence(
        "leakage.step",
        voltage=plain(step.at),
        current=step.text,
        resistance=_resistance(gohm),
    )


def _resistance(gohm: float) -> str:
    return amount(gohm * 1e3, "MOhm")


def _compared(found: list[float], fall_pct: float) -> str:
    most = max(found[:-1])
    fall = 100.0 * (1.0 - found[-1] / most)
    if not at_least(fall_pct, fall):
        return sentence(
            "leakage.fall",
            fall=tenths(fall),
            highest=_resistance(most),
            limit=plain(fall_pct),
        )
    spread = 100.0 * (1.0 - min(found) / max(found))
    key = "leakage.even" if at_least(fall_pct, spread) else "leakage.uneven"
    return sentence(key, spread=tenths(spread), limit=plain(fall_pct))
