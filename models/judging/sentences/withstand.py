"""How a withstand was judged."""

from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import plain
from models.words import say


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
    wanted = plain(step.part["hold_s"])
    return say(f"duration.{step.verdict}", held=plain(duration_s), wanted=wanted)
