"""Polarization index and absorption ratio: information, and never a verdict."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.judging.near import near
from models.judging.notes.placing import Made, value_of
from models.judging.notes.rows import row_of, unreadable
from models.judging.notes.vocabulary import Note
from models.judging.quantities import convert, said_unit
from models.judging.sentences.numbers import in_unit, typed
from models.judging.series import (
    TIMED,
    Step,
    absorption_ratio,
    polarization_index,
    value_at,
)
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.values import Interval
from models.judging.wording import figure, plain
from models.words import say as sentence

ONE_MINUTE_S = 60.0
# The prefix of a band's ends, the later and the earlier time in s. The definitions:
# docs/criteria.md, polarization index.
RATIOS = (("pi", 600.0, 60.0), ("dar", 60.0, 30.0))
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
        yield unreadable(TIMED.name)
        return
    yield from _differing(state, steps)
    ratios = (polarization_index(steps), absorption_ratio(steps))
    for (prefix, late, early), ratio in zip(RATIOS, ratios, strict=True):
        if ratio is not None:
            quotient = _quotient(_at(steps, late), _at(steps, early))
            yield _ratio(note["bands"], prefix, quotient, ratio)
    if ratios == (None, None):
        yield sentence("polarization.none", series=sentence("series.timed"))
        return
    yield from _too_high(state, note, steps)
    yield sentence("polarization.information")


def _at(steps: Sequence[Step], at: float) -> Step:
    return next(step for step in steps if near(step.at, at))


def _differing(state: State, steps: Sequence[Step]) -> Iterator[str]:
    """Say where the reading after one minute is not the reading itself."""
    minute = value_at(steps, ONE_MINUTE_S)
    if minute is None or state.interval is None or _same(minute, state.interval):
        return
    yield sentence(
        "polarization.differing",
        series=sentence("series.timed"),
        minute=f"{_at(steps, ONE_MINUTE_S).text} {said_unit(state.unit)}",
        typed=typed(state),
    )


def _same(one: Interval, other: Interval) -> bool:
    sides = ((one.low is None) == (other.low is None)) and (
        (one.high is None) == (other.high is None)
    )
    return sides and near(one.bound, other.bound)


def _quotient(late: Step, early: Step) -> str:
    return sentence(
        "polarization.ratio",
        late=late.text,
        late_s=plain(late.at),
        early=early.text,
        early_s=plain(early.at),
    )


def _ratio(
    bands: Sequence[Mapping[str, Any]], prefix: str, quotient: str, ratio: Interval
) -> str:
    """Return a ratio with the trade's word for it; of a bound nothing can be said."""
    parts = {
        "title": sentence(f"polarization.{prefix}"),
        "quotient": quotient,
        "ratio": figure(ratio.bound, 3),
    }
    if not ratio.exact:
        side = "at_least" if ratio.high is None else "at_most"
        return sentence(f"polarization.{side}", **parts)
    for band in bands:
        low, high = band.get(f"{prefix}_from"), band.get(f"{prefix}_to")
        if (low is None or ratio.bound >= low) and (high is None or ratio.bound < high):
            return sentence("polarization.band", band=band["word"], **parts)
    return sentence("polarization.no_band", **parts)


def _too_high(state: State, note: Note, steps: Sequence[Step]) -> Iterator[str]:
    """Say where the resistance is so high that the index has no meaning.

    The figure belongs to 40 degC: the reading goes there by the rule's own table.
    """
    minute = value_at(steps, ONE_MINUTE_S)
    there = state.rule.correct(note["limit_c"])
    if minute is None or minute.low is None or not (state.factor and there):
        return
    assert state.unit is not None
    at_limit = convert(minute.low, state.unit, "MOhm") * state.factor / there
    if at_limit > note["limit_mohm"]:
        key = "polarization.too_high"
        yield sentence(
            key if minute.exact else f"{key}.at_least",
            limit_c=plain(note["limit_c"]),
            corrected=in_unit(state, at_limit * there),
            factor=figure(there),
            value=in_unit(state, at_limit),
            limit=in_unit(state, note["limit_mohm"]),
        )
