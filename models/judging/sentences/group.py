"""How a reading was compared with the lowest of its group."""

from models.judging.measured import Measured
from models.judging.sentences.limits import high_sentence
from models.judging.sentences.numbers import bounded, in_unit, value_of
from models.judging.state import State
from models.judging.steps import Step
from models.judging.verdicts import Verdict
from models.judging.wording import amount, figure, plain
from models.words import say


def alone_sentences(_: State, step: Step) -> list[str]:
    """Return nothing for a reading that another bound judges by itself."""
    if step.verdict is None:
        return []
    assert step.part is not None
    by_difference = step.part["kind"] == "over_lowest"
    return [say("alone.over_lowest" if by_difference else "alone")]


def is_lowest_sentence(state: State, _: Step) -> str:
    """Return that the reading is the lowest itself."""
    return say("is_lowest", value=value_of(_measured(state)))


def near_lowest_sentence(state: State, step: Step) -> str:
    """Return the comparison by ratio, with U or simply, or of bounds."""
    low, high = step.numbers["lowest_low"], step.numbers["lowest_high"]
    measured = _measured(state)
    if not measured.exact or low < high:
        return _open_sentence(state, step)
    if step.numbers["guard"] is None:
        return _simple_sentence(state, step)
    assert step.part is not None
    ratio = measured.shown / high
    return say(
        f"near_lowest.{step.verdict}",
        value=value_of(measured),
        lowest=in_unit(state, high),
        ratio=figure(ratio),
        u=figure(ratio * step.numbers["guard"], 2),
        times=plain(step.part["times"]),
    )


def _measured(state: State) -> Measured:
    assert state.measured is not None
    return state.measured


def _simple_sentence(state: State, step: Step) -> str:
    """Return the comparison with the limit itself: U of one of the two is not known."""
    assert step.part is not None
    name = say(
        "limit.lowest",
        times=plain(step.part["times"]),
        lowest=in_unit(state, step.numbers["lowest_high"]),
    )
    measured = _measured(state)
    simply = Measured(
        measured.low,
        measured.high,
        measured.shown,
        expanded=None,
        unit=measured.unit,
        signed=measured.signed,
    )
    return high_sentence(simply, step, name)


def _open_sentence(state: State, step: Step) -> str:
    """Return what was compared: the bounds, and on which side of them the rest lies."""
    assert step.part is not None
    if step.verdict is Verdict.UNJUDGED:
        return say("near_lowest.unjudged")
    measured, times = _measured(state), step.part["times"]
    met = step.verdict is Verdict.WITHIN
    compared = step.numbers["lowest_low" if met else "lowest_high"]
    parts = {
        "value": bounded(measured, value_of(measured)),
        "lowest": _lowest(state, step),
        "times": plain(times),
    }
    guard = step.numbers["guard"]
    if guard is None:
        limit = in_unit(state, times * compared)
        return say(f"near_lowest.open.{step.verdict}", limit=limit, **parts)
    ratio = measured.shown / compared
    return say(
        f"near_lowest.open_u.{step.verdict}",
        ratio=figure(ratio),
        u=figure(ratio * guard, 2),
        **parts,
    )


def _lowest(state: State, step: Step) -> str:
    """Return the lowest as the bound that was compared, where no more is known."""
    low, high = step.numbers["lowest_low"], step.numbers["lowest_high"]
    met = step.verdict is Verdict.WITHIN
    lowest = in_unit(state, low if met else high)
    if low == high:
        return lowest
    return say("lowest.at_least" if met else "lowest.at_most", lowest=lowest)


def odd_lowest_sentence(_: State, step: Step) -> str:
    """Return that so many are above that the lowest may be the odd one."""
    assert step.part is not None
    return say(
        "odd_lowest",
        above=str(step.numbers["above"]),
        members=str(step.numbers["members"]),
        times=plain(step.part["times"]),
    )


def over_lowest_sentence(state: State, step: Step) -> str:
    """Return how far over the lowest a reading lies."""
    assert step.part is not None
    if step.verdict is Verdict.UNJUDGED:
        return say("over_lowest.unjudged")
    measured, by = _measured(state), in_unit(state, step.part["by"])
    lowest, guard = step.numbers["lowest_high"], step.numbers["guard"]
    if not measured.exact or step.numbers["lowest_low"] < lowest:
        value = bounded(measured, value_of(measured))
        parts = {"value": value, "by": by, "lowest": _lowest(state, step)}
        return say(f"over_lowest.open.{step.verdict}", **parts)
    parts = {
        "value": value_of(measured),
        "lowest": in_unit(state, lowest),
        "difference": in_unit(state, measured.shown - lowest),
        "by": by,
    }
    if guard is None:
        return say(f"over_lowest.{step.verdict}", **parts)
    u = amount(guard, measured.unit, measured.shown)
    return say(f"over_lowest.u.{step.verdict}", u=u, **parts)
