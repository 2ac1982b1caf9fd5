"""What a reading, a derived value or a condition is called in a sentence."""

from models.judging.derive import READING
from models.judging.parts import Part
from models.judging.state import State
from models.words import catalogue, say


def condition_words(name: str) -> str:
    """Return what a condition is called in a sentence."""
    key = f"condition.{name}"
    return say(key) if key in catalogue() else name


def compared_name(state: State, part: Part | None) -> str:
    """Return what a bound is `of`, at the head of a sentence; empty for the reading."""
    of = READING if part is None else part.get("of", READING)
    if part is None or of == READING:
        return ""
    name = name_of(state, of, part.get("label"))
    return name[:1].upper() + name[1:]


def name_of(state: State, name: str, label: str | None = None) -> str:
    """Return what the reading, a derived value or a condition is called.

    *label*: what the part of the rule that names it calls it.
    """
    if label is not None:
        return label
    if name == READING:
        return say("derived.reading")
    for part in state.rule.derive:
        if part["name"] == name:
            return str(part.get("label", name))
    return condition_words(name)
