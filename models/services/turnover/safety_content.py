"""What a package says of the safety of a round, from the acts that are on record."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.criteria import safety as lines
from models.record.preconditions import not_confirmed_by
from models.record.safety_report.attached import attached_safety
from models.record.safety_report.report import cards_safety, safety_report
from models.record.safety_report.told import ReportCard, Told
from models.record.shapes.safety import SafetyBook
from models.schema import Round
from models.services.field.card_facts import CardFacts
from models.services.keeping.log import stamp, texted
from models.services.safety.round_safety import RoundSafety, safety_of_round
from models.signing import chain


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyContent:
    """The page of a round, and the one line of each card that went by scopes."""

    report: dict[str, Any]
    cards: Mapping[str, Any]


def safety_content(
    session: Session,
    round_: Round,
    facts: Sequence[CardFacts],
    until: datetime | None = None,
) -> SafetyContent | None:
    """Return what a package says of safety; None where nothing went by scopes.

    A round that was begun with the list before them has it from the first act on one
    of its cards.
    By the acts that happened up to *until*, all without it. What stands is asked for
    at the last thing on record, not now: so the same record gives the same content.
    """
    found = safety_of_round(session, round_, now=round_.opened_at)
    acts = [act for act in found.acts if until is None or _time(act) <= until]
    if round_.earlier_list and not _on_cards(acts, facts):
        return None
    cards = [_card(n, one, found, round_) for n, one in enumerate(facts, start=1)]
    told = Told(
        book=_with_wording(found.book, acts),
        every_act=acts,
        cards=cards,
        lineup=str(round_.lineup_id),
        zone=ZoneInfo(round_.lineup.site.zone),
        now=stamp(max(_moments(acts, facts), default=round_.opened_at)),
    )
    safety = found.safety
    if len(acts) < len(found.acts):
        safety = safety.knowing({act["id"] for act in acts})
    return SafetyContent(
        report=dict(safety_report(told, safety)), cards=cards_safety(told, safety)
    )


def _on_cards(acts: Iterable[Mapping[str, Any]], facts: Sequence[CardFacts]) -> bool:
    """Whether an act is about a card of the round, not of another on the lineup."""
    cards = {str(one.card.id) for one in facts}
    return any(cards & {act.get("of"), act.get("card")} for act in acts)


def _with_wording(book: SafetyBook, acts: Iterable[Mapping[str, Any]]) -> SafetyBook:
    """Return the book with the wording of lines that it no longer asks for."""
    given = {act["code"] for act in acts if act.get("code")} & lines.load_lines().keys()
    return {**book, "lines": {**lines.book_lines(given), **book["lines"]}}


def with_digest(content: dict[str, Any]) -> dict[str, Any]:
    """Return the content with the digest of the file that will hold its lines."""
    if "safety" not in content:
        return content
    data = chain.canonical(attached_safety(texted(content)))
    digest = hashlib.sha256(data).hexdigest()
    return {**content, "safety": {**content["safety"], "digest": digest}}


def _time(act: Mapping[str, Any]) -> datetime:
    return datetime.fromisoformat(act["at"])


def _moments(
    acts: Iterable[Mapping[str, Any]], facts: Sequence[CardFacts]
) -> Iterable[datetime]:
    yield from map(_time, acts)
    for one in facts:
        yield from (reading.taken_at for reading in one.readings)
        yield from (signature.at for signature in one.signed)


def _card(
    sheet: int, facts: CardFacts, found: RoundSafety, round_: Round
) -> ReportCard:
    """Return a card as the report knows it, its readings in the core's order."""
    card_id = str(facts.card.id)
    rows = {str(row.id): row for row in facts.readings}
    readings = [
        {
            **one,
            "name": rows[one["id"]].by.name,
            "point": rows[one["id"]].point.label,
            "covered": round_.earlier_list and _covered(facts, one["id"]),
        }
        for one in found.rows.readings.get(card_id, [])
    ]
    after = facts.value.after if round_.earlier_list else ()
    return ReportCard(
        id=card_id,
        sheet=sheet,
        cell=str(facts.card.cell_id),
        readings=readings,
        confirmed_after=bool(after) and set(after) <= facts.confirmed_codes,
    )


def _covered(facts: CardFacts, reading_id: str) -> bool:
    """Whether the list in force before was answered before a reading."""
    value = facts.value
    reading = next(one for one in value.readings if str(one.id) == reading_id)
    return not not_confirmed_by(value, reading)
