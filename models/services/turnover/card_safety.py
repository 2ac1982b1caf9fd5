"""What was stated on a card for safety: each line with its name, time and notes."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from models.services.field.card_facts import CardFacts
from models.services.safety.card_scopes import AT_LAST
from models.services.safety.round_safety import RoundSafety
from models.services.turnover.safety_seen import Said, Seen

GIVEN = {"confirmed": "confirmed", "not_applicable": "does not apply"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A line as somebody gave it, or set it aside; *on*: on whose tablet."""

    code: str
    text: str
    source: str
    said: str
    reason: str
    by: str
    on: str
    at: str
    noted: Said


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSafety:
    """The lines of a card, in order of time, and those that are still open after."""

    before: list[Stated]
    after: list[Stated]
    open_after: list[tuple[str, str]]  # code and wording


def card_safety(facts: CardFacts, found: RoundSafety) -> CardSafety | None:
    """Return what was stated on the card; None where it goes by the earlier list."""
    if facts.scopes is None:
        return None
    zone = ZoneInfo(facts.card.round.lineup.site.zone)
    seen = Seen(found.book, found.safety.site(AT_LAST), {}, zone)
    given = list(_of_card(found.acts, str(facts.card.id)))
    return CardSafety(
        before=[_stated(seen, one) for one in given if one["scope"] == "test"],
        after=[_stated(seen, one) for one in given if one["scope"] == "after"],
        open_after=[(code, seen.wording(code)) for code in facts.scopes.open_after],
    )


def _of_card(
    acts: Iterable[Mapping[str, Any]], card_id: str
) -> Iterable[Mapping[str, Any]]:
    for act in sorted(acts, key=lambda one: (one["at"], one["id"])):
        if act["act"] in ("line", "override") and act["of"] == card_id:
            yield act


def _stated(seen: Seen, act: Mapping[str, Any]) -> Stated:
    who = act.get("person") or act["by"]
    names = ", ".join(act.get("names") or ())
    return Stated(
        code=act["code"],
        text=seen.wording(act["code"]),
        source=seen.source(act["code"]),
        said=GIVEN.get(act.get("state", ""), f"set aside; agreed by {names}"),
        reason=act.get("reason") or "",
        by=who["name"],
        on=act["by"]["name"] if act.get("person") else "",
        at=act["at"],
        noted=seen.noted(act.get("noted") or {}),
    )
