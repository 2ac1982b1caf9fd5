"""Reasons and refusals of safety as sentences, with the names that people know."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from models.record.shapes.safety import SafetyBook
from models.words.catalogue import catalogue, say

TIMES = ("at", "since")


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What the facts of a sentence are called: cards by id, change words, the zone."""

    zone: str
    cards: Mapping[str, str] = field(default_factory=dict)
    cells: Mapping[str, str] = field(default_factory=dict)
    changes: Mapping[str, str] = field(default_factory=dict)


def named(book: SafetyBook, zone: str, cards: Mapping[str, str]) -> Named:
    """Return the names of a round: *cards* by id, the cells by their numbers."""
    cells = {
        key: f"cell {cell['number']}"
        for lineup in book["lineups"].values()
        for key, cell in lineup["cells"].items()
    }
    return Named(zone=zone, cards=cards, cells=cells, changes=book["changes"])


def reason_words(reason: Mapping[str, Any], names: Named) -> str:
    """Return why a card is closed."""
    return _sentence(("reason",), reason, names)


def refusal_words(fault: Mapping[str, Any], names: Named) -> str:
    """Return why an act is not taken: a refusal, or a reason of a scope."""
    return _sentence(("refusal", "reason"), fault, names)


def _sentence(kinds: Sequence[str], one: Mapping[str, Any], names: Named) -> str:
    facts = one.get("facts") or {}
    parts = {name: _part(name, value, names) for name, value in facts.items()}
    for kind in kinds:
        key = f"safety.{kind}.{one['code']}"
        if key in catalogue():
            return say(key, **parts)
    raise LookupError(f"the catalogue has no sentence for '{one['code']}'")


def _part(name: str, value: Any, names: Named) -> str:
    if value is None:
        return ""
    if name in TIMES:
        at = datetime.fromisoformat(value).astimezone(ZoneInfo(names.zone))
        return f"{at:%d %b %H:%M}"
    if isinstance(value, list):
        return ", ".join(_called(str(one), names) for one in value)
    word = str(value)
    return names.changes.get(word, word) if name == "why" else _called(word, names)


def _called(word: str, names: Named) -> str:
    return names.cards.get(word) or names.cells.get(word) or word
