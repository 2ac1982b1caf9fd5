"""Reasons and refusals as sentences."""

from collections.abc import Callable, Mapping
from typing import Any

from models.words import catalogue, say

Json = Mapping[str, Any]
TIMES = ("at", "since")


def sentence(
    found: Json,
    *,
    changes: Mapping[str, str],
    name: Callable[[str], str],
    clock: Callable[[str], str],
) -> str:
    """Return a reason, or a fault of an act, as a sentence.

    *changes*: the book's change words in words. *name* says what an id of a card, cell
    or item is called, and gives other texts back as they are; *clock* says a moment in
    the site's zone.
    """

    def part(key: str, value: Any) -> str:
        if value is None:
            return ""
        if key in TIMES:
            return clock(value)
        if key == "why":
            return changes.get(value, value)
        if isinstance(value, list):
            return ", ".join(name(str(one)) for one in value)
        return name(str(value))

    facts = {key: part(key, value) for key, value in found["facts"].items()}
    return say(sentence_id(found["code"]), **facts)


def sentence_id(code: str) -> str:
    """Return the id in the catalogue of a refusal, or of a reason of a scope."""
    refusal = f"safety.refusal.{code}"
    return refusal if refusal in catalogue() else f"safety.reason.{code}"
