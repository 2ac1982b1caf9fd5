"""What was read, what was wanting, and how it was corrected."""

from functools import lru_cache

from models.judging.accuracy import Accuracy, RangedAccuracy
from models.judging.corrections import row_below
from models.judging.quantities import said_unit
from models.judging.sentences.numbers import typed, u_of, value_of
from models.judging.state import State
from models.judging.steps import Step
from models.judging.values import Outcome
from models.judging.wording import figure, plain
from models.words import say

SIMPLE_SINCE = 3  # version of rules that say that no accuracy takes part


def read_sentences(state: State) -> list[str]:
    """Return what was typed, where it is not one number."""
    value = state.value
    if isinstance(value, Outcome):
        return [say("read.outcome", outcome=say(f"outcome.{value}"))]
    if state.exact:
        return []
    side = "at_least" if value.low is not None else "at_most"
    shown = f"{plain(value.bound)} {said_unit(state.unit)}"
    return [say(f"read.{side}", typed=typed(state), value=shown)]


def corrected_sentences(state: State, step: Step) -> list[str]:
    """Return the correction with its numbers, and U."""
    correction, measured = state.rule.correction, state.measured
    assert measured is not None
    if correction["by"] == "none":
        return [_uncertainty(state)]
    temperature_c = state.conditions["temperature_c"]
    corrected = say(
        "corrected",
        typed=typed(state),
        temperature=plain(temperature_c),
        factor=figure(step.numbers["factor"]),
        value=value_of(measured),
        reference=plain(correction["reference_c"]),
        how=_factor(state, temperature_c),
    )
    return [corrected, _uncertainty(state)]


def _factor(state: State, temperature_c: float) -> str:
    """Return how the factor was found."""
    correction = state.rule.correction
    label, shown = correction["label"], plain(temperature_c)
    if correction["by"] == "metal":
        k, reference = plain(correction["k"]), plain(correction["reference_c"])
        return say(
            "factor.metal", label=label, k=k, reference=reference, temperature=shown
        )
    points = correction["points"]
    at = row_below(points, temperature_c)
    low_c, low = map(plain, points[at])
    if points[at][0] == temperature_c:
        return say("factor.at", label=label, temperature=low_c, factor=low)
    high_c, high = map(plain, points[at + 1])
    straight = correction.get("join") == "linear"
    return say(
        "factor.straight" if straight else "factor.between",
        label=label,
        low=low_c,
        low_factor=low,
        high=high_c,
        high_factor=high,
    )


def not_corrected_sentence(state: State, _: Step) -> str:
    """Return why there is no factor."""
    correction = state.rule.correction
    temperature_c = state.conditions.get("temperature_c")
    if temperature_c is None:
        return say("not_corrected.unknown")
    shown = plain(temperature_c)
    if correction["by"] == "metal":
        return say("not_corrected.metal", temperature=shown)
    first, last = (plain(correction["points"][end][0]) for end in (0, -1))
    return say("not_corrected.factor", temperature=shown, first=first, last=last)


def without_u(state: State) -> str:
    """Return the sentence of a value without U: none is asked for, or none is stated.

    Rules before version 3 say the second of both.
    """
    simple = state.rule.decision == "simple" and state.rule.version >= SIMPLE_SINCE
    return "uncertainty.simple" if simple else "uncertainty.none"


def _uncertainty(state: State) -> str:
    accuracy, measured = state.reading.accuracy, state.measured
    assert measured is not None
    if state.beyond_ranges:
        return say("uncertainty.beyond")
    if accuracy is None or measured.expanded is None:
        return say(without_u(state))
    by_none = state.rule.correction["by"] == "none"
    key = "uncertainty" if by_none else "uncertainty.corrected"
    return say(key, u=u_of(measured), accuracy=stated_words(state, accuracy))


def stated_words(state: State, accuracy: Accuracy | RangedAccuracy) -> str:
    """Return the accuracy at the value as it is stated, and its range."""
    assert state.interval is not None
    assert state.unit is not None
    here = accuracy.at(state.interval.bound, state.unit)
    assert here is not None
    unit = here.unit or state.unit
    stated = accuracy_words(here.pct, here.fixed, unit)
    if here.low is None or here.high is None:
        return stated
    ends = {"low": plain(here.low), "high": plain(here.high)}
    return say("accuracy.range", accuracy=stated, unit=said_unit(unit), **ends)


@lru_cache(maxsize=1024)
def accuracy_words(pct: float, fixed: float, unit: str) -> str:
    """Return an instrument's accuracy as it is stated."""
    return say("accuracy", pct=plain(pct), fixed=plain(fixed), unit=said_unit(unit))
