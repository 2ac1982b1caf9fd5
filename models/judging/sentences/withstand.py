"""How a withstand was judged."""

from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import plain
from models.words import say

TEN_MINUTES = 600.0  # s: below it people speak of seconds


def level_sentence(state: State, step: Step) -> str:
    """Return whether the field level was reached, and not exceeded by much."""
    part = step.part
    assert part is not None
    wanted = say("level.wanted", level=plain(part["level_kv"]))
    test_kv = state.conditions.get("test_kv")
    if test_kv is None:
        return say("level.unknown", wanted=wanted)
    return say(
        f"level.{step.verdict}",
        voltage=plain(test_kv),
        wanted=wanted,
        over=plain(part["over_pct"]),
        rated=plain(part.get("rated_kv", 0.0)),
    )


def duration_sentence(state: State, step: Step) -> str:
    """Return whether the voltage was held for long enough."""
    assert step.part is not None
    duration_s = state.conditions.get("duration_s")
    if duration_s is None:
        return say("duration.unknown")
    held, wanted = held_for(duration_s), held_for(step.part["hold_s"])
    return say(f"duration.{step.verdict}", held=held, wanted=wanted)


def held_for(seconds: float) -> str:
    """Return a time as people say it: 60 s, 30 min."""
    if seconds >= TEN_MINUTES and seconds % 60 == 0:
        return f"{plain(seconds / 60)} min"
    return f"{plain(seconds)} s"
