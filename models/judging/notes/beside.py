"""A sentence of the catalogue that stands beside a verdict as it is."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.judging.near import finite
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.words import say as sentence


def make(
    name: str,
    parts: Mapping[str, str],
    sources: Sequence[Mapping[str, Any]],
    **between: Any,
) -> Made:
    """Return the note that says a sentence of the catalogue.

    *between*: `on`, a condition, `above` and `below`, where it has to lie; without
    them the sentence is always said. `outcome`: what has to have been observed.
    """
    note = {"say": "beside", "sentence": name, "parts": dict(parts), **between}
    return Made(note, [dict(source) for source in sources])


def say(state: State, note: Note) -> Iterator[str]:
    """Say the sentence; nothing where its condition lies elsewhere or is not known."""
    if "on" in note:
        at = state.conditions.get(note["on"])
        if not finite(at) or not note["above"] < at < note["below"]:
            return
    if note.get("outcome") not in (None, state.value):
        return
    yield sentence(note["sentence"], **note["parts"])
