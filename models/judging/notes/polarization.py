"""Polarization index and absorption ratio: information, and never a verdict."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.judging.near import near
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import UNREADABLE, row_of
from models.judging.notes.vocabulary import Note
from models.judging.quantities import convert, said_unit
from models.judging.series import (
    TIMED,
    Step,
    absorption_ratio,
    polarization_index,
    value_at,
)
from models.judging.state import State, typed
from models.judging.tables import Criteria
from models.judging.values import Interval
from models.judging.wording import figure, plain

ONE_MINUTE_S = 60.0
# Title, the later and the earlier time in s, and the prefix of a band's ends. The
# definitions: docs/criteria.md, polarization index.
RATIOS = (
    ("Polarization index", 600.0, 60.0, "pi"),
    ("Absorption ratio", 60.0, 30.0, "dar"),
)
ENDS = ("dar_from", "dar_to", "pi_from", "pi_to")


def make(criteria: Criteria) -> Made:
    """Return the note with the trade's bands, and where the index has no meaning."""
    bands = criteria.table("polarization_bands")
    limits = criteria.table("polarization_limits")
    limit_mohm, meaning = value_of(
        limits, "no index where the one-minute resistance at 40 degC is above"
    )
    note = {
        "say": "polarization",
        "limit_mohm": limit_mohm,
        "limit_c": 40.0,  # as the row's name says
        "bands": [
            {"word": row["condition"], **{e: row[e] for e in ENDS if e in row}}
            for row in bands.rows
        ],
    }
    source = {**bands.cite_column("condition", ""), "row": ""}
    return Made(note, [source, meaning])


def say(state: State, note: Note) -> Iterator[str]:
    """Say what the readings over time come to; nothing where there are none."""
    steps = row_of(state, TIMED.name)
    if steps is None:
        return
    if not steps:
        yield f"{TIMED.title}: {UNREADABLE}"
        return
    yield from _differing(state, steps)
    ratios = (polarization_index(steps), absorption_ratio(steps))
    for (title, late, early, prefix), ratio in zip(RATIOS, ratios, strict=True):
        if ratio is not None:
            yield _ratio(title, (_at(steps, late), _at(steps, early)), ratio) + (
                _band(note["bands"], prefix, ratio)
            )
    if ratios == (None, None):
        yield (
            f"{TIMED.title}: no ratio can be formed; 60 s with 30 s or with 600 s is "
            "wanted."
        )
        return
    yield from _too_high(state, note, steps)
    yield (
        "These ratios are information: the absorption current of air-insulated bus "
        "and vacuum breakers dies in seconds. No verdict rests on them."
    )


def _at(steps: Sequence[Step], at: float) -> Step:
    return next(step for step in steps if near(step.at, at))


def _differing(state: State, steps: Sequence[Step]) -> Iterator[str]:
    """Say where the reading after one minute is not the reading itself."""
    minute = value_at(steps, ONE_MINUTE_S)
    if minute is None or state.interval is None or _same(minute, state.interval):
        return
    yield (
        f"{TIMED.title}: after 60 s {_at(steps, ONE_MINUTE_S).text} "
        f"{said_unit(state.unit)}, but the reading is {typed(state)}. Check which was "
        "meant."
    )


def _same(one: Interval, other: Interval) -> bool:
    sides = ((one.low is None) == (other.low is None)) and (
        (one.high is None) == (other.high is None)
    )
    return sides and near(one.bound, other.bound)


def _ratio(title: str, steps: tuple[Step, Step], ratio: Interval) -> str:
    late, early = steps
    side = "" if ratio.exact else ("at least " if ratio.high is None else "at most ")
    return (
        f"{title}: {late.text} ({plain(late.at)} s) / {early.text} "
        f"({plain(early.at)} s) = {side}{figure(ratio.bound, 3)}"
    )


def _band(bands: Sequence[Mapping[str, Any]], prefix: str, ratio: Interval) -> str:
    """Return the trade's word for a ratio; of a bound nothing can be said."""
    if not ratio.exact:
        return "."
    for band in bands:
        low, high = band.get(f"{prefix}_from"), band.get(f"{prefix}_to")
        if (low is None or ratio.bound >= low) and (high is None or ratio.bound < high):
            return f", '{band['word']}' in the trade's bands."
    return ", in none of the trade's bands."


def _too_high(state: State, note: Note, steps: Sequence[Step]) -> Iterator[str]:
    """Say where the resistance is so high that the index has no meaning.

    The figure belongs to 40 degC: the reading goes there by the rule's own table.
    """
    minute = value_at(steps, ONE_MINUTE_S)
    there = state.rule.correct(note["limit_c"]).factor
    if minute is None or minute.low is None or not (state.factor and there):
        return
    assert state.unit is not None
    at_limit = convert(minute.low, state.unit, "MOhm") * state.factor / there
    if at_limit > note["limit_mohm"]:
        side = "" if minute.exact else "at least "
        yield (
            f"At {plain(note['limit_c'])} °C the resistance after 60 s would be "
            f"{side}{state.say(at_limit * there)} / {figure(there)} = "
            f"{state.say(at_limit)}, above {state.say(note['limit_mohm'])}: the index "
            "has no meaning there."
        )
