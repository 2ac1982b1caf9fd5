"""A leak rate from two pressures, both at 20 degC, and when it could be told."""

import math
from dataclasses import replace
from typing import NamedTuple

from models.judging.isochor import Carried, carry, temperature_of
from models.judging.measured import Measured, Named
from models.judging.parts import Part
from models.judging.state import State

UNIT = "%/year"


class Leak(NamedTuple):
    """A rate, the first pressure that it starts from, and what tells a rate.

    *told*: U of a rate whose pressures are as uncertain as the first, times the hours
    between them; a limit can be told after *told* / limit hours. None: not known.
    """

    rate: Measured
    first: Carried
    told: float | None


def leak_of(
    state: State, part: Part, second: Measured | None, named: Named
) -> Leak | None:
    """Return the loss a year from the first pressure to *second*; None: not known.

    rate = 100 (p1 - p2) / p1 x (hours of a year) / (hours between). U by the
    derivatives, both readings independent (GUM 5.1.2): what the two have in common
    cancels, so that this is the safe side. Without U of the gauge *and* of the
    thermometer no U is known: either alone would be too small.
    """
    if state.rule.correction["by"] != "isochor":  # which gas it is, is not known
        return None
    first, hours = first_of(state, part, named), named(part["over_h"])
    if second is None or first is None or hours is None or not hours.low > 0:
        return None
    p1, scale = first.value.shown, 100 * part["year_h"]
    of_both, told = _relative(second, first), None
    whole = first.whole and _is_whole(state, named)
    if whole and first.value.relative is not None:
        told = scale * math.sqrt(2.0) * first.value.relative

    def work(p2: float) -> float:
        return float(scale * (1 - p2 / p1) / hours.shown)

    rate = Measured(
        work(second.high),
        work(second.low),
        work(second.shown),
        expanded=scale / hours.shown * second.shown / p1 * of_both if whole else None,
        unit=part.get("unit", UNIT),
        signed=True,
    )
    return Leak(rate, first, told)


def _relative(second: Measured, first: Carried) -> float:
    return math.hypot(second.relative or 0.0, first.value.relative or 0.0)


def _is_whole(state: State, named: Named) -> bool:
    """Return whether U of gauge and thermometer are known for the second reading."""
    at = temperature_of(state, "temperature_c", named)
    read = named(state.rule.correction.get("of", "")) or state.as_read
    known = (read and read.expanded, at and at.expanded)
    return None not in known


def first_of(state: State, part: Part, named: Named) -> Carried | None:
    """Return the first pressure at the reference temperature; None: not known.

    Its U is its own where it is known, else that of the gauge at what it showed.
    """
    first, at = named(part["first"]), temperature_of(state, part["first_c"], named)
    if first is None or at is None:
        return None
    expanded = first.expanded
    if expanded is None:
        expanded = _u_of_gauge(state, named(part.get("gauge", part["first"])))
    read = Measured(
        first.low,
        first.high,
        first.shown,
        expanded=expanded,
        unit=first.unit,
        signed=False,
    )
    return carry(state.rule.correction, read, at)


def _u_of_gauge(state: State, showed: Measured | None) -> float | None:
    """Return U of the gauge of the second reading at what the first one showed."""
    accuracy, interval, unit = state.reading.accuracy, state.interval, state.unit
    if None in (accuracy, interval, unit, showed) or state.rule.decision == "simple":
        return None
    assert accuracy is not None
    assert interval is not None
    assert unit is not None
    assert showed is not None
    stated = accuracy.at(interval.bound, unit)
    if stated is None:
        return None
    own = stated if stated.unit else replace(stated, unit=unit)
    return own.expanded(showed.shown, state.rule.unit or unit)


def wait_h(leak: Leak | None, limit: float) -> float | None:
    """Return after how many hours a rate of *limit* can be told; None: not known."""
    return None if leak is None or leak.told is None else leak.told / limit
