"""The operating time of a relay: against its curve as set, or its pickup as found."""

import math

from models.judging import timing_band as band
from models.judging import timing_base as base
from models.judging.bounds import find_at_least, find_at_most
from models.judging.near import at_least
from models.judging.parts import Part
from models.judging.settings import LARGEST_MULTIPLE, setting_problem
from models.judging.state import State
from models.judging.timing_options import MEASURED
from models.judging.values import Outcome
from models.judging.verdicts import Verdict, verdict_of


def find_in_time(state: State, part: Part) -> None:
    """Judge the operating time at the multiple of the setting that was applied.

    A rule that was stored with an impossible setting judges nothing. The judgement
    that does not decide, where a pickup was measured, is said beside the verdict.
    """
    against_measured = part.get("against") == MEASURED
    pickup_a = part[base.setting_of(part)]
    settings = [pickup_a, part["time_dial"]]
    if against_measured:
        pickup_a = state.conditions.get("measured_pickup_a")
        settings.append(pickup_a)
    if any(map(setting_problem, settings)):
        state.unknown("settings", part)
        return
    bound = part
    if against_measured:
        state.find(None, "measured_pickup", part)
        bound = band.unwidened(part)
    _find_at_multiple(state, part, bound, pickup_a)
    state.find(None, "timed", part)


def _find_at_multiple(state: State, part: Part, bound: Part, pickup_a: float) -> None:
    multiple = state.conditions[base.applied_to(bound)] / pickup_a
    if multiple > LARGEST_MULTIPLE:
        state.unknown("no_multiple", part, pickup=pickup_a)
        return
    state.find(
        None, "multiple", part, numbers={"multiple": multiple, "pickup": pickup_a}
    )
    multiple = base.reach(bound, multiple)
    if at_least(1.0, multiple):
        _find_below_pickup(state, part, bound, multiple)
    elif not at_least(multiple, bound["start_multiple"]):
        state.unknown("no_timing_point", part)
    else:
        _find_on_curve(state, part, bound, multiple)


def _find_below_pickup(state: State, part: Part, bound: Part, multiple: float) -> None:
    silent = state.value is Outcome.NO_TRIP
    over_range = state.measured is None or state.measured.over_range
    perhaps = over_range or not at_least(1.0, band.seen(bound, multiple)[1])
    verdict = verdict_of(sure=silent, perhaps=perhaps, exact=False)
    state.find(verdict, "below_pickup", part)


def _find_on_curve(state: State, part: Part, bound: Part, multiple: float) -> None:
    state.find(None, "curve", part, numbers={"multiple": multiple})
    times = band.band_at(bound, multiple)
    if times is None:
        state.unknown("no_band", part)
        return
    low, expected = times.low, times.expected
    high = None if math.isinf(times.high) else times.high
    state.find(None, "tolerance", part, low=low, high=high, numbers=times.numbers())
    if state.measured is None:
        _find_no_trip(state, part, high, expected)
        return
    find_at_least(state, part, "earliest", state.measured, low)
    if high is not None:
        find_at_most(state, part, "latest", state.measured, high)


def _find_no_trip(
    state: State, part: Part, high: float | None, expected: float
) -> None:
    verdict = Verdict.UNJUDGED if high is None else Verdict.OUTSIDE
    state.find(verdict, "no_trip", part, numbers={"expected": expected})
