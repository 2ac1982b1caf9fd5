"""Bounds: how a corrected reading is compared with a limit."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging.curves import equation, operating_time
from models.judging.near import at_least
from models.judging.settings import LARGEST_MULTIPLE, setting_fault
from models.judging.state import State
from models.judging.values import Outcome
from models.judging.verdicts import Verdict
from models.judging.wording import figure, plain

Bound = Mapping[str, Any]


def compare_low(state: State, limit: float, name: str = "the minimum") -> None:
    """At least *limit*, beyond the guard band U where the accuracy is known."""
    if limit <= 0:  # U must not reach below nothing: no quantity here is negative
        said = f"No reading can be below {name} {state.say(limit)}."
        state.find(Verdict.WITHIN, said)
        return
    guard = state.expanded or 0.0
    if guard and (state.guarded_low is None or limit > state.guarded_low[0]):
        state.guarded_low = (limit, name)
    met = at_least(state.low - guard, limit)
    missed = not at_least(state.high + guard, limit)
    side = "at or above" if at_least(state.shown, limit) else "below"
    _say(state, limit, name, met=met, missed=missed, side=side, sign="−")


def compare_high(state: State, limit: float, name: str = "the maximum") -> None:
    """At most *limit*, beyond the guard band U where the accuracy is known."""
    guard = state.expanded or 0.0
    if guard and (state.guarded_high is None or limit < state.guarded_high[0]):
        state.guarded_high = (limit, name)
    met = at_least(limit, state.high + guard)
    missed = not at_least(limit, state.low - guard)
    side = "at or below" if at_least(limit, state.shown) else "above"
    _say(state, limit, name, met=met, missed=missed, side=side, sign="+")


def _say(
    state: State,
    limit: float,
    name: str,
    *,
    met: bool,
    missed: bool,
    side: str,
    sign: str,
) -> None:
    shown, said = state.say(state.shown), f"{name} {state.say(limit)}"
    guarded = shown
    if state.expanded:
        away = _away(state, sign, met=met)
        guarded = f"{shown} {away} U {state.say_u()}"
    guarded = state.bounded(guarded)
    if met:
        state.find(Verdict.WITHIN, f"{guarded} is {side} {said}.")
    elif missed:
        state.find(Verdict.OUTSIDE, f"{guarded} is {side} {said}.")
    elif state.exact:
        state.find(
            Verdict.MARGINAL,
            f"{shown} is {side} {said} by less than U {state.say_u()}.",
        )
    else:
        state.find(
            Verdict.UNJUDGED,
            f"{guarded} is all that is known: it may lie on either side of {said}.",
        )


def _away(state: State, sign: str, *, met: bool) -> str:
    """Return the side on which U matters: of a bound, that which is known."""
    if not state.exact:
        return "−" if math.isinf(state.high) else "+"
    return sign if met else ("+" if sign == "−" else "−")


def withstand(state: State, bound: Bound) -> None:
    """Held for long enough at the level, and not far above it."""
    level, hold_s = bound["level_kv"], bound["hold_s"]
    state.narrow(low=level)
    if state.interval is not None:
        state.find(
            Verdict.UNJUDGED,
            "A withstand is judged by held or broke_down, not a number.",
        )
        return
    test_kv = state.conditions.get("test_kv")
    duration_s = state.conditions.get("duration_s")
    wanted = f"the field level {plain(level)} kV"
    if test_kv is None:
        state.find(Verdict.UNJUDGED, f"The voltage reached is not known ({wanted}).")
    elif not at_least(test_kv, level):
        state.find(Verdict.UNJUDGED, f"{plain(test_kv)} kV does not reach {wanted}.")
    elif not at_least(level * (1 + bound["over_pct"] / 100), test_kv):
        state.find(
            Verdict.MARGINAL,
            f"{plain(test_kv)} kV is more than {plain(bound['over_pct'])} % above "
            f"{wanted}: the gear was stressed beyond it.",
        )
    else:
        state.find(Verdict.WITHIN, f"Held at {plain(test_kv)} kV; {wanted}.")
    if duration_s is None:
        state.find(Verdict.UNJUDGED, "It is not known how long the voltage was held.")
    elif not at_least(duration_s, hold_s):
        state.find(
            Verdict.UNJUDGED,
            f"Held for {plain(duration_s)} s; {plain(hold_s)} s are wanted.",
        )
    else:
        state.find(
            Verdict.WITHIN,
            f"Held for {plain(duration_s)} s of {plain(hold_s)} s wanted.",
        )


def timing(state: State, bound: Bound) -> None:
    """The operating time at the multiple that was injected.

    A rule that was stored with an impossible setting judges nothing.
    """
    applied_a, pickup_a = state.conditions["applied_a"], bound["pickup_a"]
    faults = (
        setting_fault("The pickup", pickup_a),
        setting_fault("The time dial", bound["time_dial"]),
    )
    if any(faults):
        for fault in filter(None, faults):
            state.find(Verdict.UNJUDGED, fault)
        return
    multiple = applied_a / pickup_a
    if multiple > LARGEST_MULTIPLE:
        state.find(
            Verdict.UNJUDGED,
            f"{plain(applied_a)} A is out of all proportion to the pickup "
            f"{plain(pickup_a)} A: check both.",
        )
        return
    said = figure(multiple)
    state.working.append(
        f"Multiple of pickup: {plain(applied_a)} A / {plain(pickup_a)} A = {said}."
    )
    if at_least(1.0, multiple):
        _below_pickup(state)
    elif not at_least(multiple, bound["start_multiple"]):
        state.find(
            Verdict.UNJUDGED,
            f"Between 1 and {plain(bound['start_multiple'])} times pickup is not a "
            "timing point: inject more.",
        )
    else:
        _on_curve(state, bound, multiple, said)


def _below_pickup(state: State) -> None:
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
    else:
        state.find(Verdict.OUTSIDE, "Operated at or below pickup, where it must not.")


def _on_curve(state: State, bound: Bound, multiple: float, said: str) -> None:
    curve, dial = bound["curve"], bound["time_dial"]
    expected = operating_time(curve, dial, multiple)
    state.working.append(
        f"{curve['label']}: t = {equation(curve, dial, said)} = {state.say(expected)}."
    )
    part = bound["tolerance_pct"] / 100 * expected
    tolerance = max(part, bound["tolerance_s"])
    state.working.append(
        f"Tolerance: the greater of {plain(bound['tolerance_pct'])} % "
        f"({state.say(part)}) and {plain(bound['tolerance_s'])} s = "
        f"± {state.say(tolerance)}."
    )
    state.source(bound["tolerance_cite"])
    low, high = max(0.0, expected - tolerance), expected + tolerance
    state.narrow(low=low, high=high)
    if state.value is Outcome.NO_TRIP:
        state.find(
            Verdict.OUTSIDE, f"Did not operate; {state.say(expected)} was expected."
        )
        return
    compare_low(state, low, "the earliest")
    compare_high(state, high, "the latest")
