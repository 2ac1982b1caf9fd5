"""A relay's pickup as it was measured, and the judgement that does not decide."""

import math

from models.judging import timing_band as band
from models.judging.near import at_least
from models.judging.parts import Part
from models.judging.sentences.numbers import in_unit
from models.judging.sentences.timing import bound_of
from models.judging.settings import LARGEST_MULTIPLE, setting_fault
from models.judging.state import State
from models.judging.steps import Step
from models.judging.timing_base import of_voltage
from models.judging.timing_options import MEASURED
from models.judging.verdicts import WORST_FIRST, Verdict, verdict_of
from models.judging.wording import figure, plain
from models.words import say


def measured_pickup_sentence(state: State, step: Step) -> str:
    """Return how far the pickup was found from its setting."""
    part = bound_of(step)
    measured_a, set_a = state.conditions["measured_pickup_a"], part["pickup_a"]
    declared = part.get("pickup_error_pct")
    off = 100 * (measured_a / set_a - 1)
    key = "measured_pickup"
    if declared:
        key += ".inside" if at_least(declared, abs(off)) else ".beyond"
    return say(
        key,
        measured=plain(measured_a),
        set=plain(set_a),
        off=("−" if off < 0 else "+") + figure(abs(off), 2),
        declared=plain(declared or 0.0),
    )


def timed_sentences(state: State, step: Step) -> list[str]:
    """Return the judgement that does not decide, where a pickup was measured."""
    part = bound_of(step)
    if of_voltage(part):
        return []
    if part.get("against") == MEASURED:
        set_a = part["pickup_a"]
        name = say("timed.setting", pickup=plain(set_a))
        return [_beside(state, part, set_a, name)]
    measured_a = state.conditions.get("measured_pickup_a")
    if "against" not in part or measured_a is None:
        return []
    fault = setting_fault("measured_pickup_a", measured_a)
    if fault is not None:
        return [fault]
    name = say("timed.measured", pickup=plain(measured_a))
    beside = _beside(state, band.unwidened(part), measured_a, name)
    return [measured_pickup_sentence(state, step), beside]


def _beside(state: State, part: Part, pickup_a: float, against: str) -> str:
    multiple = state.conditions["applied_a"] / pickup_a
    begun = {"against": against, "multiple": figure(multiple)}
    timed = at_least(multiple, part["start_multiple"]) and multiple <= LARGEST_MULTIPLE
    found = band.band_at(part, multiple) if timed else None
    if found is None:
        return say("timed.no_point", **begun)
    endless = math.isinf(found.high)
    return say(
        "timed.no_latest" if endless else "timed",
        expected=in_unit(state, found.expected),
        low=in_unit(state, found.low),
        high=in_unit(state, found.high),
        verdict=say(f"verdict.{_weighed(state, found)}"),
        **begun,
    )


def _weighed(state: State, found: band.Band) -> Verdict:
    """Return the verdict of comparing with both ends of *found*."""
    measured = state.measured
    if measured is None:
        return Verdict.UNJUDGED if math.isinf(found.high) else Verdict.OUTSIDE
    either = [
        verdict_of(sure=sure, perhaps=perhaps, exact=measured.exact)
        for sure, perhaps in (
            (
                found.low <= 0 or at_least(measured.least, found.low),
                at_least(measured.most, found.low),
            ),
            (
                at_least(found.high, measured.most),
                at_least(found.high, measured.least),
            ),
        )
    ]
    return next(filter(either.__contains__, WORST_FIRST))
