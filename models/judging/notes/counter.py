"""An operations counter as found and as left: it never runs backwards."""

from collections.abc import Iterator

from models.judging.near import finite
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.wording import plain
from models.words import say as sentence


def make() -> Made:
    """Return the note; what it needs are the two counts."""
    note = {"say": "counter", "found": "counter_as_found", "left": "counter_as_left"}
    return Made(note, ())


def say(state: State, note: Note) -> Iterator[str]:
    """Say how far it moved, or that the counts do not fit; nothing without both."""
    counts = [state.conditions.get(note[name]) for name in ("found", "left")]
    known = [float(count) for count in counts if count is not None and finite(count)]
    if len(known) < len(counts):
        return
    found, left = known
    parts = {"found": plain(found), "left": plain(left), "moved": plain(left - found)}
    yield sentence("counter.back" if left < found else "counter", **parts)
