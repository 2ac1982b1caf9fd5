"""Leakage over the steps of a dc withstand: whether it rises as the voltage does."""

from collections.abc import Iterator

from models.judging.near import at_least
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import UNREADABLE, row_of
from models.judging.notes.vocabulary import Note
from models.judging.series import LEAKAGE, apparent_resistance_gohm
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import amount, plain, tenths


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
        yield f"{LEAKAGE.title}: {UNREADABLE}"
        return
    known = [
        (step, gohm)
        for step in steps
        if (gohm := apparent_resistance_gohm(step)) is not None
    ]
    if known:
        said = "; ".join(
            f"{plain(step.at)} kV / {step.text} µA = {_said(gohm)}"
            for step, gohm in known
        )
        yield f"Apparent resistance: {said}."
    if len(known) < 2:
        yield f"{LEAKAGE.title}: two exact currents are wanted to compare steps."
        return
    yield _compared([gohm for _, gohm in known], note["fall_pct"])


def _said(gohm: float) -> str:
    return amount(gohm * 1e3, "MOhm")


def _compared(found: list[float], fall_pct: float) -> str:
    most = max(found[:-1])
    fall = 100.0 * (1.0 - found[-1] / most)
    if not at_least(fall_pct, fall):
        return (
            f"At the last step it is {tenths(fall)} % below {_said(most)}, more than "
            f"{plain(fall_pct)} %: the current rises faster than the voltage. Stop "
            "and look before the voltage is raised, or applied again."
        )
    spread = 100.0 * (1.0 - min(found) / max(found))
    if at_least(fall_pct, spread):
        return (
            f"They differ by {tenths(spread)} %, not more than {plain(fall_pct)} %: "
            "the current rises with the voltage."
        )
    return (
        f"They differ by {tenths(spread)} %, more than {plain(fall_pct)} %: the "
        "current does not rise evenly with the voltage. Compare with the other phases."
    )
