"""Bounds: how a corrected reading is compared with a limit."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging.near import at_least
from models.judging.state import State
from models.judging.verdicts import Verdict
from models.judging.wording import plain

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
    verdict = _verdict(state, met=met, missed=missed)
    side = "at or above" if at_least(state.shown, limit) else "below"
    state.find(verdict, _said(state, verdict, limit, name, side=side, sign="−"))


def compare_high(state: State, limit: float, name: str = "the maximum") -> None:
    """At most *limit*, beyond the guard band U where the accuracy is known."""
    guard = state.expanded or 0.0
    if guard and (state.guarded_high is None or limit < state.guarded_high[0]):
        state.guarded_high = (limit, name)
    met = at_least(limit, state.high + guard)
    missed = not at_least(limit, state.low - guard)
    verdict = _verdict(state, met=met, missed=missed)
    side = "at or below" if at_least(limit, state.shown) else "above"
    state.find(verdict, _said(state, verdict, limit, name, side=side, sign="+"))


def _verdict(state: State, *, met: bool, missed: bool) -> Verdict:
    if met:
        return Verdict.WITHIN
    if missed:
        return Verdict.OUTSIDE
    return Verdict.MARGINAL if state.exact else Verdict.UNJUDGED


def _said(
    state: State, verdict: Verdict, limit: float, name: str, *, side: str, sign: str
) -> str:
    """Return the sentence: what was compared, and on which side of the limit it is."""
    if state.quiet:
        return ""
    shown, named = state.say(state.shown), f"{name} {state.say(limit)}"
    if verdict is Verdict.MARGINAL:
        return f"{shown} is {side} {named} by less than U {state.say_u()}."
    guarded = shown
    if state.expanded:
        away = _away(state, sign, met=verdict is Verdict.WITHIN)
        guarded = f"{shown} {away} U {state.say_u()}"
    guarded = state.bounded(guarded)
    if verdict is Verdict.UNJUDGED:
        return f"{guarded} is all that is known: it may lie on either side of {named}."
    return f"{guarded} is {side} {named}."


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
