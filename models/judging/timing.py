"""The operating time of a relay: against its curve as set, or its pickup as found."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging import timing_band as band
from models.judging.bounds import compare_high, compare_low
from models.judging.curves import equation, operating_time
from models.judging.near import at_least
from models.judging.settings import LARGEST_MULTIPLE, setting_fault
from models.judging.state import State
from models.judging.timing_options import MEASURED
from models.judging.values import Outcome
from models.judging.verdicts import WORST_FIRST, Verdict
from models.judging.wording import DIGITS, figure, plain

Bound = Mapping[str, Any]
EQUATION_DIGITS = 7  # near pickup M^p - 1 keeps few of the digits of M
NO_POINT = "Between 1 and {} times pickup is not a timing point: inject more."


def timing(state: State, bound: Bound) -> None:
    """Judge the operating time at the multiple that was injected.

    A rule that was stored with an impossible setting judges nothing. A measured
    pickup is heeded by rules that say what decides: the other judgement is then said
    beside the verdict.
    """
    faults = (
        setting_fault("The pickup", bound["pickup_a"]),
        setting_fault("The time dial", bound["time_dial"]),
    )
    if any(faults):
        for fault in filter(None, faults):
            state.find(Verdict.UNJUDGED, fault)
        return
    measured_a = (
        state.conditions.get("measured_pickup_a") if "against" in bound else None
    )
    if bound.get("against") == MEASURED:
        _against_measured(state, bound, measured_a)
        return
    _against(state, bound, bound["pickup_a"], "pickup")
    if measured_a is not None and not state.quiet:
        _say_measured(state, bound, measured_a)


def _against_measured(state: State, bound: Bound, measured_a: float | None) -> None:
    fault = setting_fault("The measured pickup", measured_a)
    if fault is not None:
        state.find(Verdict.UNJUDGED, fault)
        return
    assert measured_a is not None
    _say_pickup(state, bound, measured_a)
    _against(state, band.unwidened(bound), measured_a, "the measured pickup")
    said = f"the setting {plain(bound['pickup_a'])} A"
    _beside(state, bound, bound["pickup_a"], said)


def _say_measured(state: State, bound: Bound, measured_a: float) -> None:
    fault = setting_fault("The measured pickup", measured_a)
    if fault is not None:
        state.working.append(fault)
        return
    _say_pickup(state, bound, measured_a)
    said = f"the measured pickup {plain(measured_a)} A"
    _beside(state, band.unwidened(bound), measured_a, said)


def _say_pickup(state: State, bound: Bound, measured_a: float) -> None:
    """Say how far the pickup was found from its setting."""
    if state.quiet:
        return
    set_a = bound["pickup_a"]
    off = 100 * (measured_a / set_a - 1)
    declared = bound.get("pickup_error_pct")
    beyond = ""
    if declared:
        side = "inside" if at_least(declared, abs(off)) else "beyond"
        beyond = f", {side} the declared ± {plain(declared)} %"
    state.working.append(
        f"Pickup measured {plain(measured_a)} A, set {plain(set_a)} A: "
        f"{'−' if off < 0 else '+'}{figure(abs(off), 2)} %{beyond}."
    )


def _against(state: State, bound: Bound, pickup_a: float, name: str) -> None:
    """Judge at the multiple of *pickup_a*."""
    applied_a = state.conditions["applied_a"]
    multiple = applied_a / pickup_a
    if multiple > LARGEST_MULTIPLE:
        state.find(
            Verdict.UNJUDGED,
            f"{plain(applied_a)} A is out of all proportion to the pickup "
            f"{plain(pickup_a)} A: check both.",
        )
        return
    if not state.quiet:
        state.working.append(
            f"Multiple of {name}: {plain(applied_a)} A / {plain(pickup_a)} A = "
            f"{_times(bound, multiple)}."
        )
    if at_least(1.0, multiple):
        _below_pickup(state, bound, multiple)
    elif not at_least(multiple, bound["start_multiple"]):
        start = plain(bound["start_multiple"])
        state.find(Verdict.UNJUDGED, NO_POINT.format(start))
    else:
        _on_curve(state, bound, multiple)


def _times(bound: Bound, multiple: float) -> str:
    """Return a multiple with the digits to work on with.

    A rule of version 1 keeps its text: it has no `against`.
    """
    return figure(multiple, EQUATION_DIGITS if "against" in bound else DIGITS)


def _below_pickup(state: State, bound: Bound, multiple: float) -> None:
    if state.value is Outcome.NO_TRIP:
        state.find(
            Verdict.WITHIN, "Did not operate, as it must not at or below pickup."
        )
    elif math.isinf(state.high):
        state.find(
            Verdict.UNJUDGED,
            "It is not said whether the relay operated at last: enter no_trip if it "
            "did not.",
        )
    elif at_least(1.0, band.seen(bound, multiple)[1]):
        state.find(Verdict.OUTSIDE, "Operated at or below pickup, where it must not.")
    else:
        state.find(
            Verdict.UNJUDGED,
            "Operated below pickup by less than the declared errors of pickup and "
            "current: inject less.",
        )


def _on_curve(state: State, bound: Bound, multiple: float) -> None:
    expected = _say_expected(state, bound, multiple)
    pct = _say_tolerance_pct(state, bound, multiple)
    if pct is None:
        return
    state.source(bound["tolerance_cite"])
    if band.widens(bound):
        low, high = _say_widened(state, bound, multiple, pct)
    else:
        low, high = _say_tolerance(state, bound, pct, expected)
    endless = math.isinf(high)
    state.narrow(low=low, high=None if endless else high)
    if state.value is Outcome.NO_TRIP and endless:
        state.find(Verdict.UNJUDGED, "Did not operate, and no time is too late here.")
    elif state.value is Outcome.NO_TRIP:
        state.find(
            Verdict.OUTSIDE, f"Did not operate; {state.say(expected)} was expected."
        )
    else:
        compare_low(state, low, "the earliest")
        if not endless:
            compare_high(state, high, "the latest")


def _say_expected(state: State, bound: Bound, multiple: float) -> float:
    """Say the time of the curve, and where a ceiling or a minimum holds it."""
    if not state.quiet:
        label = bound["curve"]["label"]
        state.working.append(f"{label}: t = {_worked(state, bound, multiple)}.")
    return band.expected_time(bound, multiple)


def _worked(state: State, bound: Bound, multiple: float) -> str:
    """Return the arithmetic of one expected time."""
    counted = band.counted(bound, multiple)
    curve, dial = bound["curve"], bound["time_dial"]
    seconds = operating_time(curve, dial, counted)
    words = f"{equation(curve, dial, _times(bound, counted))} = {state.say(seconds)}"
    if counted < multiple:
        words += f" (flat above {plain(counted)} times)"
    least = bound.get("minimum_time_s") or 0.0
    return (
        f"{words}, held to the minimum {plain(least)} s" if seconds < least else words
    )


def _say_tolerance_pct(state: State, bound: Bound, multiple: float) -> float | None:
    """Return the percentage that holds at *multiple*; say it where it depends on it."""
    pct = band.tolerance_pct(bound, multiple)
    if pct is None:
        first = plain(bound["bands"][0]["from"])
        state.find(
            Verdict.UNJUDGED,
            f"The assigned-error bands begin at {first} times pickup: inject more.",
        )
        return None
    held = band.assigned_band(bound, multiple) if bound.get("bands") else None
    if held is not None:
        if not state.quiet:
            _say_assigned(state, held, bound["tolerance_pct"], pct)
        state.source(held["cite"])
    return pct


def _say_assigned(state: State, held: Bound, error_pct: float, pct: float) -> None:
    to = held.get("to")
    above = "from {} times pickup on" if to is None else "from {} to {} times pickup"
    place = above.format(plain(held["from"]), plain(to or 0.0))
    state.working.append(
        f"Assigned error {plain(error_pct)} %, {place} "
        f"× {plain(held['times'])} = {plain(pct)} %."
    )


def _say_tolerance(
    state: State, bound: Bound, pct: float, expected: float
) -> tuple[float, float]:
    margin = band.tolerance(bound, pct, expected)
    if not state.quiet:
        greater = _greater(state, bound, pct, expected)
        state.working.append(f"Tolerance: {greater} = ± {state.say(margin)}.")
    return max(0.0, expected - margin), expected + margin


def _greater(state: State, bound: Bound, pct: float, seconds: float) -> str:
    return (
        f"the greater of {plain(pct)} % ({state.say(pct / 100 * seconds)}) and "
        f"{plain(bound['tolerance_s'])} s"
    )


def _say_widened(
    state: State, bound: Bound, multiple: float, pct: float
) -> tuple[float, float]:
    """Say how the errors of pickup and current move both ends of the band."""
    least, greatest = band.seen(bound, multiple)
    fast, slow = (band.expected_time(bound, seen) for seen in (greatest, least))
    low = max(0.0, fast - band.tolerance(bound, pct, fast))
    high = slow if math.isinf(slow) else slow + band.tolerance(bound, pct, slow)
    if state.quiet:
        return low, high
    _say_seen(state, bound, *(_times(bound, m) for m in (multiple, least, greatest)))
    state.working.append(
        f"Earliest: {_worked(state, bound, greatest)}, less "
        f"{_greater(state, bound, pct, fast)} = {state.say(low)}."
    )
    state.working.append(
        "It may see no more than its pickup: no time is too late."
        if math.isinf(slow)
        else f"Latest: {_worked(state, bound, least)}, and "
        f"{_greater(state, bound, pct, slow)} more = {state.say(high)}."
    )
    return low, high


def _say_seen(state: State, bound: Bound, said: str, lower: str, upper: str) -> None:
    """Say from which to which multiple the relay may see."""
    ep, ei = (bound.get(f"{n}_error_pct") or 0.0 for n in ("pickup", "current"))
    state.working.append(
        f"Pickup ± {plain(ep)} %, current ± {plain(ei)} %: the relay may see "
        f"{said} × (1 − {plain(ei / 100)}) / (1 + {plain(ep / 100)}) = {lower} to "
        f"{said} × (1 + {plain(ei / 100)}) / (1 − {plain(ep / 100)}) = {upper} times "
        "pickup."
    )


def _beside(state: State, bound: Bound, pickup_a: float, name: str) -> None:
    """Say the judgement that does not decide, in one sentence."""
    if state.quiet:
        return
    multiple = state.conditions["applied_a"] / pickup_a
    begun = f"For information, against {name} ({figure(multiple)} times)"
    timed = at_least(multiple, bound["start_multiple"]) and multiple <= LARGEST_MULTIPLE
    found = band.band_at(bound, multiple) if timed else None
    if found is None:
        state.working.append(f"{begun}: not a timing point.")
        return
    latest = "no latest" if math.isinf(found.high) else f"to {state.say(found.high)}"
    state.working.append(
        f"{begun}: {state.say(found.expected)} expected, from {state.say(found.low)} "
        f"{latest}: {_weigh(state, found)}."
    )


def _weigh(state: State, found: band.Band) -> str:
    """Return the verdict word of comparing with both ends of *found*."""
    if state.value is Outcome.NO_TRIP:
        return Verdict.UNJUDGED if math.isinf(found.high) else Verdict.OUTSIDE
    guard = state.expanded or 0.0
    open_to = Verdict.MARGINAL if state.exact else Verdict.UNJUDGED
    either = [
        _end(
            open_to,
            met=found.low <= 0 or at_least(state.low - guard, found.low),
            missed=not at_least(state.high + guard, found.low),
        ),
        _end(
            open_to,
            met=at_least(found.high, state.high + guard),
            missed=not at_least(found.high, state.low - guard),
        ),
    ]
    return next(filter(either.__contains__, WORST_FIRST))


def _end(open_to: Verdict, *, met: bool, missed: bool) -> Verdict:
    if met:
        return Verdict.WITHIN
    return Verdict.OUTSIDE if missed else open_to
