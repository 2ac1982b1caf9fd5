"""Step voltage: good insulation reads the same at every voltage."""

from collections.abc import Iterator

from models.judging.near import at_least
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import UNREADABLE, row_of
from models.judging.notes.vocabulary import Note
from models.judging.series import STEPS
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure, plain, tenths


def make(criteria: Criteria) -> Made:
    """Return the note with the fall from which one looks."""
    fall_pct, source = value_of(
        criteria.table("insulation_cautions"),
        "step voltage: fall of the resistance",
    )
    return Made({"say": "step_voltage", "fall_pct": fall_pct}, [source])


def say(state: State, note: Note) -> Iterator[str]:
    """Say how the highest step compares with the lowest; nothing without steps."""
    steps = row_of(state, STEPS.name)
    if steps is None:
        return
    if not steps:
        yield f"{STEPS.title}: {UNREADABLE}"
        return
    first, last = steps[0], steps[-1]
    if first is last or not (first.value.exact and last.value.exact):
        yield f"{STEPS.title}: two exact readings are wanted, at two voltages."
        return
    if not first.value.bound:
        yield f"{STEPS.title}: nothing can be compared with a resistance of 0."
        return
    share = last.value.bound / first.value.bound
    said = (
        f"{STEPS.title}: {last.text} ({plain(last.at)} kV) / {first.text} "
        f"({plain(first.at)} kV) = {figure(share, 3)}"
    )
    fall = 100.0 * (1.0 - share)
    if at_least(note["fall_pct"], fall):
        yield f"{said}: no fall of more than {plain(note['fall_pct'])} %."
    else:
        yield (
            f"{said}, a fall of {tenths(fall)} %, more than "
            f"{plain(note['fall_pct'])} %: moisture, dirt or a crack may conduct at "
            "the higher voltage. Look before the voltage is raised."
        )
