"""Step voltage: good insulation reads the same at every voltage."""

from collections.abc import Iterator

from models.judging.near import at_least
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import row_of, unreadable
from models.judging.notes.vocabulary import Note
from models.judging.series import STEPS, Step
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure, plain, tenths
from models.words import say as sentence


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
        yield unreadable(STEPS.name)
        return
    series = sentence("series.steps")
    first, last = steps[0], steps[-1]
    if first is last or not (first.value.exact and last.value.exact):
        yield sentence("step_voltage.two", series=series)
        return
    if not first.value.bound:
        yield sentence("step_voltage.zero", series=series)
        return
    yield _compared(series, first, last, note["fall_pct"])


def _compared(series: str, first: Step, last: Step, limit_pct: float) -> str:
    share = last.value.bound / first.value.bound
    fall = 100.0 * (1.0 - share)
    even = at_least(limit_pct, fall)
    return sentence(
        "step_voltage.even" if even else "step_voltage.fall",
        series=series,
        last=last.text,
        last_kv=plain(last.at),
        first=first.text,
        first_kv=plain(first.at),
        share=figure(share, 3),
        fall=tenths(fall),
        limit=plain(limit_pct),
    )
