"""A relay's current on both sides of its current transformer."""

from collections.abc import Iterator

from models.judging.near import finite
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.wording import figure, plain
from models.words import say as sentence

READING = "reading"
PRIMARY, SECONDARY = "primary", "secondary"


def make(
    on: str, base: str | None, primary_a: float | None, secondary_a: float | None
) -> Made | None:
    """Return the note where the ratio is known; *base*: of the settings.

    *on* names the condition that holds the current, or the reading itself.
    """
    if not primary_a or not secondary_a:
        return None
    return Made(
        {
            "say": "other_base",
            "on": on,
            "base": base or PRIMARY,
            "primary": primary_a,
            "secondary": secondary_a,
        },
        [],
    )


def say(state: State, note: Note) -> Iterator[str]:
    """Say the current in primary amperes and in those of the relay."""
    value = _current(state, note["on"])
    if value is None:
        return
    ratio = note["primary"] / note["secondary"]
    one, two = (
        (value, value / ratio) if note["base"] == PRIMARY else (value * ratio, value)
    )
    yield sentence(
        "other_base",
        primary=plain(note["primary"]),
        secondary=plain(note["secondary"]),
        one=figure(one),
        two=figure(two),
    )


def _current(state: State, on: str) -> float | None:
    if on == READING:
        return None if state.measured is None else state.measured.shown
    value = state.conditions.get(on)
    return float(value) if value is not None and finite(value) else None
