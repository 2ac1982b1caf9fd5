"""Leakage over the steps of a dc withstand: whether it rises as the voltage does."""

from collections.abc import Iterator
from itertools import starmap

from models.judging.near import at_least
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import row_of, unreadable
from models.judging.notes.vocabulary import Note
from models.judging.series import LEAKAGE, Step, apparent_resistance_gohm
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import amount, plain, tenths
from models.words import say as sentence


def make(criteria: Criteria) -> Made:
    """Return the note with the fall of the apparent resistance from which one stops."""
    fall_pct, source = value_of(
        criteria.table("insulation_cautions"),
        "dc withstand: fall of the apparent resistance",
    )
    note = {"say": "leakage", "fall_pct": fall_pct, "when": {"supply": "dc"}}
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
