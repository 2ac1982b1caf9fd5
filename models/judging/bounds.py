"""Bounds: how a value is compared with a limit, with an outcome and a level."""

from collections.abc import Mapping
from typing import Any

from models.judging.measured import Measured
from models.judging.near import at_least
from models.judging.parts import Part
from models.judging.state import State
from models.judging.steps import NO_NUMBERS
from models.judging.verdicts import Verdict, verdict_of


def find_at_least(
    state: State,
    part: Part,
    code: str,
    measured: Measured,
    limit: float,
    numbers: Mapping[str, Any] = NO_NUMBERS,
) -> None:
    """At least *limit*, beyond the guard band U where the accuracy is known."""
    always = limit <= 0 and not measured.signed  # U must not reach below nothing
    sure = always or at_least(measured.least, limit)
    perhaps = sure or at_least(measured.most, limit)
    verdict = verdict_of(sure=sure, perhaps=perhaps, exact=measured.exact)
    state.find(verdict, code, part, low=limit, numbers=numbers)


def find_at_most(
    state: State,
    part: Part,
    code: str,
    measured: Measured,
    limit: float,
    numbers: Mapping[str, Any] = NO_NUMBERS,
) -> None:
    """At most *limit*, beyond the guard band U where the accuracy is known."""
    sure = at_least(limit, measured.most)
    perhaps = sure or at_least(limit, measured.least)
    verdict = verdict_of(sure=sure, perhaps=perhaps, exact=measured.exact)
    state.find(verdict, code, part, high=limit, numbers=numbers)


def find_minimum(state: State, part: Part, measured: Measured) -> None:
    """At least the bound's value."""
    missed = not at_least(measured.most, part["value"])
    if part.get("resolve") and _unresolved(part["value"], measured, missed=missed):
        state.find(Verdict.UNJUDGED, "unresolved", part, low=part["value"])
        return
    find_at_least(state, part, "minimum", measured, part["value"])


def find_maximum(state: State, part: Part, measured: Measured) -> None:
    """At most the bound's value."""
    missed = not at_least(part["value"], measured.least)
    if part.get("resolve") and _unresolved(part["value"], measured, missed=missed):
        state.find(Verdict.UNJUDGED, "unresolved", part, high=part["value"])
        return
    find_at_most(state, part, "maximum", measured, part["value"])


def _unresolved(limit: float, measured: Measured, *, missed: bool) -> bool:
    """Return whether U is too great to tell the limit, or not known."""
    expanded = measured.expanded
    return expanded is None or (not missed and expanded > abs(limit))


def find_withstood(state: State, part: Part) -> None:
    """Held for long enough at the level, and not far above it.

    Above the rated withstand, where the rule says it, the gear was stressed beyond it.
    """
    level = part["level_kv"]
    if state.interval is not None:
        state.find(Verdict.UNJUDGED, "outcome_wanted", part, low=level)
        return
    test_kv = state.conditions.get("test_kv")
    state.find(_at_level(part, test_kv), "level", part, low=level)
    duration_s = state.conditions.get("duration_s")
    held = duration_s is not None and at_least(duration_s, part["hold_s"])
    state.find(Verdict.WITHIN if held else Verdict.UNJUDGED, "duration", part)


def _at_level(part: Part, test_kv: float | None) -> Verdict:
    level, rated = part["level_kv"], part.get("rated_kv")
    if test_kv is not None and rated is not None and not at_least(rated, test_kv):
        return Verdict.OUTSIDE
    if test_kv is None or not at_least(test_kv, level):
        return Verdict.UNJUDGED
    spared = at_least(level * (1 + part["over_pct"] / 100), test_kv)
    return Verdict.WITHIN if spared else Verdict.MARGINAL
