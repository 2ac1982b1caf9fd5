"""How an operating time was judged."""

import math
from typing import Any

from models.judging import timing_band as band
from models.judging import timing_base as base
from models.judging.curves import equation, operating_time
from models.judging.parts import Part
from models.judging.sentences.numbers import in_unit
from models.judging.settings import setting_fault
from models.judging.state import State
from models.judging.steps import Step
from models.judging.timing_options import MEASURED
from models.judging.verdicts import Verdict
from models.judging.wording import DIGITS, figure, plain
from models.words import say

EQUATION_DIGITS = 7  # near pickup M^p - 1 keeps few of the digits of M


def bound_of(step: Step) -> Part:
    """Return the bound of a step."""
    assert step.part is not None
    return step.part


def settings_sentences(state: State, step: Step) -> list[str]:
    """Return which of a relay's settings no relay can have."""
    part = bound_of(step)
    names = (base.setting_of(part), "time_dial")
    faults = [setting_fault(name, part[name]) for name in names]
    if not any(faults):
        measured_a = state.conditions.get("measured_pickup_a")
        faults = [setting_fault("measured_pickup_a", measured_a)]
    return [fault for fault in faults if fault is not None]


def no_multiple_sentence(state: State, step: Step) -> str:
    """Return that current and pickup do not belong together."""
    part = bound_of(step)
    applied, pickup = state.conditions[base.applied_to(part)], step.numbers["pickup"]
    key = _of("no_multiple", part)
    return say(key, applied=plain(applied), pickup=plain(pickup))


def multiple_sentence(state: State, step: Step) -> str:
    """Return the multiple of the pickup that decides."""
    part = bound_of(step)
    measured = part.get("against") == MEASURED
    return say(
        "multiple.measured" if measured else _of("multiple", part),
        applied=plain(state.conditions[base.applied_to(part)]),
        pickup=plain(step.numbers["pickup"]),
        multiple=times(part, step.numbers["multiple"]),
    )


def times(part: Part, multiple: float) -> str:
    """Return a multiple with the digits to work on with.

    A rule of version 1 keeps its text: it has no `against`.
    """
    return figure(multiple, EQUATION_DIGITS if "against" in part else DIGITS)


def no_timing_point_sentence(_: State, step: Step) -> str:
    """Return that the multiple is too near pickup."""
    part = bound_of(step)
    near = 100 * (part["start_multiple"] - 1)
    key = _of("no_timing_point", part)
    return say(key, start=plain(part["start_multiple"]), near=figure(near))


def below_pickup_sentence(state: State, step: Step) -> str:
    """Return whether it stayed silent, as it must."""
    if step.verdict is not Verdict.UNJUDGED:
        return say(f"{_of('below_pickup', bound_of(step))}.{step.verdict}")
    unsaid = state.measured is None or state.measured.over_range
    return say("below_pickup.unsaid" if unsaid else "below_pickup.nearly")


def curve_sentence(state: State, step: Step) -> str:
    """Return the curve with its numbers."""
    part = bound_of(step)
    time = _time(state, part, step.numbers["multiple"])
    return say("curve", label=part["curve"]["label"], time=time)


def _time(state: State, part: Part, multiple: float) -> str:
    """Return the arithmetic of one expected time, and what holds it."""
    counted = band.counted(part, multiple)
    curve, dial = part["curve"], part["time_dial"]
    seconds = operating_time(curve, dial, counted)
    inserted = equation(curve, dial, _inserted(part, counted))
    words = say("curve.time", equation=inserted, time=in_unit(state, seconds))
    if counted < multiple:
        words = say("curve.flat", time=words, ceiling=plain(counted))
    least = part.get("minimum_time_s") or 0.0
    return (
        say("curve.least", time=words, least=plain(least)) if seconds < least else words
    )


def _inserted(part: Part, reach: float) -> str:
    """Return what the equation has of the multiple: it, or the departure from 1."""
    return times(part, reach - 1.0 if base.of_voltage(part) else reach)


def _of(key: str, part: Part) -> str:
    return f"{key}.voltage" if base.of_voltage(part) else key


def no_band_sentence(_: State, step: Step) -> str:
    """Return where the assigned-error bands begin."""
    return say("no_band", first=plain(bound_of(step)["bands"][0]["from"]))


def tolerance_sentences(state: State, step: Step) -> list[str]:
    """Return how wide the band is about the curve, step by step."""
    numbers, part = step.numbers, bound_of(step)
    assigned = [] if numbers["band"] is None else [_assigned(part, numbers)]
    if numbers["least"] == numbers["most"]:
        return [*assigned, _tolerance(state, part, numbers)]
    return [*assigned, *_widened(state, step)]


def _assigned(part: Part, numbers: Part) -> str:
    held = numbers["band"]
    to = held.get("to")
    parts = {
        "error": plain(part["tolerance_pct"]),
        "first": plain(held["from"]),
        "times": plain(held["times"]),
        "pct": plain(numbers["pct"]),
    }
    if to is None:
        return say("assigned.from", **parts)
    return say("assigned.between", last=plain(to), **parts)


def _tolerance(state: State, part: Part, numbers: Part) -> str:
    pct, expected = numbers["pct"], numbers["expected"]
    margin = band.tolerance(part, pct, expected)
    greater = _greater(state, part, pct, expected)
    return say("tolerance", greater=greater, margin=in_unit(state, margin))


def _greater(state: State, part: Part, pct: float, seconds: float) -> str:
    return say(
        "tolerance.greater",
        pct=plain(pct),
        share=in_unit(state, pct / 100 * seconds),
        seconds=plain(part["tolerance_s"]),
    )


def _widened(state: State, step: Step) -> list[str]:
    """Return how the errors of pickup and current move both ends of the band."""
    part, found = bound_of(step), step.numbers
    earliest = say(
        "tolerance.earliest",
        time=_time(state, part, found["most"]),
        greater=_greater(state, part, found["pct"], found["fast"]),
        earliest=in_unit(state, step.low or 0.0),
    )
    return [_seen(part, found), earliest, _latest(state, step)]


def _latest(state: State, step: Step) -> str:
    part, found = bound_of(step), step.numbers
    if step.high is None or math.isinf(found["slow"]):
        return say("tolerance.no_latest")
    return say(
        "tolerance.latest",
        time=_time(state, part, found["least"]),
        greater=_greater(state, part, found["pct"], found["slow"]),
        latest=in_unit(state, step.high),
    )


def _seen(part: Part, found: Part) -> str:
    """Return from which to which multiple the relay may see."""
    pickup, current = (part.get(f"{n}_error_pct") or 0.0 for n in ("pickup", "current"))
    return say(
        "tolerance.seen",
        pickup=plain(pickup),
        current=plain(current),
        pickup_share=plain(pickup / 100),
        current_share=plain(current / 100),
        **_multiples(part, found),
    )


def _multiples(part: Part, found: Part) -> dict[str, str]:
    names: dict[str, Any] = {"multiple": "multiple", "least": "least", "most": "most"}
    return {name: times(part, found[name]) for name in names}


def no_trip_sentence(state: State, step: Step) -> str:
    """Return that it did not operate."""
    expected = in_unit(state, step.numbers["expected"])
    return say(f"no_trip.{step.verdict}", expected=expected)
