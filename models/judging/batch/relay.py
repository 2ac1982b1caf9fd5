"""The band of a relay's operating times, in columns."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging import timing_base as base
from models.judging.batch.codes import NO_TRIP, OUTSIDE, UNJUDGED, WITHIN, Mask, Numbers
from models.judging.batch.columns import Readings
from models.judging.batch.gates import at_least
from models.judging.batch.limits import find_at_least, find_at_most
from models.judging.batch.state import State
from models.judging.curves import VOLTAGE
from models.judging.rules import Rule
from models.judging.settings import LARGEST_MULTIPLE, setting_problem
from models.judging.timing_band import seen, unwidened
from models.judging.timing_options import MEASURED
from models.judging.values import LARGEST


def compare_times(state: State, bound: Mapping[str, Any], where: Mask) -> None:
    """Compare with the band of a curve at the multiple of the pickup."""
    timed = state.number | (state.columns.outcome == NO_TRIP)
    state.find(where & ~timed, UNJUDGED)  # another outcome says nothing of the time
    where = where & timed
    set_a, dial = bound[base.setting_of(bound)], bound["time_dial"]
    if setting_problem(set_a) or setting_problem(dial):
        state.find(where, UNJUDGED)
        return
    if bound.get("against") == MEASURED:
        pickup_a = state.columns.condition("measured_pickup_a")
        bound = unwidened(bound)
        known = np.broadcast_to((pickup_a > 0) & (pickup_a < LARGEST), where.shape)
        state.find(where & ~known, UNJUDGED)
        where = where & known
    multiple = _multiple(bound, state.columns)
    excessive = multiple > LARGEST_MULTIPLE
    multiple = base.reach(bound, multiple)
    below = ~excessive & at_least(1.0, multiple)
    inverse = ~excessive & ~below & at_least(multiple, bound["start_multiple"])
    state.find(where & ~below & ~inverse, UNJUDGED)
    least, greatest = seen(bound, multiple)
    no_trip = state.columns.outcome == NO_TRIP
    unsaid = np.isinf(state.measured.high) | ~at_least(1.0, greatest)
    late = np.where(unsaid, UNJUDGED, OUTSIDE)
    state.find(where & below, np.where(no_trip, WITHIN, late))
    pct = _tolerance_pct(bound, multiple)
    state.find(where & inverse & np.isnan(pct), UNJUDGED)
    where = where & inverse & ~np.isnan(pct)
    _between_times(state, bound, where, pct, (least, greatest))


def _between_times(
    state: State,
    bound: Mapping[str, Any],
    where: Mask,
    pct: Numbers,
    multiples: tuple[Numbers, Numbers],
) -> None:
    """Compare with the latest and the earliest time; *multiples*: seen at most."""
    slow, fast = (_expected(bound, multiple) for multiple in multiples)
    low = np.maximum(0.0, fast - np.maximum(pct / 100 * fast, bound["tolerance_s"]))
    high = slow + np.maximum(pct / 100 * slow, bound["tolerance_s"])
    endless = np.isinf(high)
    state.narrow(where, low=low)
    state.narrow(where & ~endless, high=high)
    no_trip = state.columns.outcome == NO_TRIP
    state.find(where & no_trip, np.where(endless, UNJUDGED, OUTSIDE))
    where = where & ~no_trip
    find_at_least(state, state.measured, low, where)
    find_at_most(state, state.measured, high, where & ~endless)


def _multiple(bound: Mapping[str, Any], columns: Readings) -> Numbers:
    """Return the multiples of the pickup that decides."""
    pickup_a: Numbers | float = bound[base.setting_of(bound)]
    if bound.get("against") == MEASURED:
        pickup_a = np.asarray(columns.condition("measured_pickup_a"), np.float64)
    applied = columns.condition(base.applied_to(bound))
    return np.broadcast_to(applied / pickup_a, columns.rows)


def assigned_bands(rule: Rule, columns: Readings) -> NDArray[np.intp]:
    """Return each row's place among the assigned-error bands; below zero: in none."""
    found = np.full(columns.rows, -1)
    for bound in rule.bounds:
        if bound["kind"] != "operating_time" or bound.get("bands") is None:
            continue
        if setting_problem(bound["pickup_a"]):
            continue
        with np.errstate(all="ignore"):  # as in `judge_columns`
            found = _assigned_band(bound, _multiple(bound, columns))
    return found


def _assigned_band(bound: Mapping[str, Any], multiple: Numbers) -> NDArray[np.intp]:
    """Return the places of `timing_band.assigned_band`; below zero: in none."""
    found = np.full(multiple.shape, -1)
    for at, band in reversed(list(enumerate(bound["bands"]))):
        inside = at_least(multiple, band["from"])  # at a border the first holds
        inside = inside & at_least(band.get("to", np.inf), multiple)
        found = np.where(inside, at, found)
    return found


def _tolerance_pct(bound: Mapping[str, Any], multiple: Numbers) -> Numbers:
    """Return `timing_band.tolerance_pct`; NaN where no band holds the multiple."""
    pct = bound["tolerance_pct"]
    if bound.get("bands") is None:
        return np.full(multiple.shape, float(pct))
    times = [pct * band["times"] for band in bound["bands"]]
    return np.array([*times, np.nan])[_assigned_band(bound, multiple)]


def _expected(bound: Mapping[str, Any], multiple: Numbers) -> Numbers:
    """Return `timing_band.expected_time`."""
    ceiling = bound.get("ceiling_multiple")
    counted = multiple if ceiling is None else np.minimum(multiple, ceiling)
    seconds = _operating_time(bound["curve"], bound["time_dial"], counted)
    return np.maximum(
        np.where(counted <= 1, np.inf, seconds), bound.get("minimum_time_s") or 0.0
    )


def _operating_time(
    curve: Mapping[str, Any], time_dial: float, multiple: Numbers
) -> Numbers:
    """Return `curves.operating_time` for multiples above 1."""
    if curve["form"] == "definite":
        return np.full(multiple.shape, float(time_dial))
    if curve["form"] == VOLTAGE:
        departure = np.maximum(curve["b"] * (multiple - 1.0) - curve["c"], 0.0)
        over = np.power(departure, curve["e"])
        return np.asarray(time_dial * curve["a"] / over + curve["d"])
    power = np.power(multiple, curve["p"])
    return np.asarray(time_dial * (curve["a"] / (power - 1.0) + curve["b"]))
