"""Reasons and refusals of safety as sentences, with the names that people know."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from models.record.safety.sentences import sentence
from models.record.shapes.safety import SafetyBook
from models.schema import Card


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What the things in a sentence are called, change words included.

    `called`: cards and cells by id. `acts` may grow: what they list on a register is
    called by the number or name written on it, with its place.
    """

    zone: str
    called: Mapping[str, str]
    changes: Mapping[str, str]
    acts: Sequence[Mapping[str, Any]]

    def say(self, found: Mapping[str, Any]) -> str:
        """Return a reason, or a fault of an act, as a sentence."""
        return sentence(found, changes=self.changes, name=self._name, clock=self._clock)

    def _name(self, word: str) -> str:
        return self.called.get(word) or self._listed(word) or word

    def _listed(self, item: str) -> str | None:
        for act in reversed(self.acts):
            if act["act"] == "list" and act["item"] == item:
                return _item(act["fields"])
        return None

    def _clock(self, at: str) -> str:
        moment = datetime.fromisoformat(at).astimezone(ZoneInfo(self.zone))
        return f"{moment:%d %b %H:%M}"


def names_of(
    book: SafetyBook,
    acts: Sequence[Mapping[str, Any]],
    zone: str,
    cards: Iterable[Card],
) -> Names:
    """Return the names of a round's things."""
    cells = {
        key: f"cell {cell['number']}"
        for lineup in book["lineups"].values()
        for key, cell in lineup["cells"].items()
    }
    called = {str(card.id): _card(card) for card in cards}
    return Names(zone=zone, called=cells | called, changes=book["changes"], acts=acts)


def _card(card: Card) -> str:
    return f"{card.procedure.replace('_', ' ')}, {card.apparatus.label}"


def _item(fields: Mapping[str, Any]) -> str | None:
    name = fields.get("number") or fields.get("name")
    place = fields.get("place")
    return f"{name} ({place})" if name and place else name or place
