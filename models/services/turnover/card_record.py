"""A card as a record: everything on it, and what this person may do about it."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models import criteria
from models.errors import NotFoundError
from models.procedures import PROCEDURES
from models.schema import Card, Deficiency, Person, Point, Reading
from models.services.field.card_facts import (
    CardFacts,
    gather,
    round_cards,
)
from models.services.field.card_view import (
    card_json,
    disposition_json,
    judged_again,
    named_rules,
    reading_json,
)
from models.services.field.together import asked_together, together_of
from models.services.keeping.log import stamp
from models.services.people.access import (
    card_of,
    has_role,
    may,
    person_of,
    reading_of,
    round_of,
)
from models.services.safety.round_safety import safety_of_round
from models.services.turnover.card_safety import CardSafety, card_safety
from models.services.turnover.round_overview import RoundHead, round_head

Doc = dict[str, Any]


CLOSED = ("signed", "withdrawn")  # states of a card that takes no reading


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRecord:
    """A card whole. `card` is the JSON of the round document."""

    head: RoundHead
    card: Doc
    cell: str
    method: str
    takes_readings: bool  # its state lets readings be added
    timed: bool  # its times may be measured in waveform records
    preconditions: list[Doc]  # answered ones with who and when; open ones without
    points: list[Doc]  # label, group, given, rule, readings (newest first)
    returns: list[Doc]
    previous: UUID | None
    following: UUID | None
    position: int
    cards: int
    may_return: bool
    may_withdraw: bool
    disclaimer: str
    safety: CardSafety | None  # None: it goes by the earlier list alone
    together: list[Doc]  # questions that it answers together with other cards

    @property
    def where(self) -> str:
        """Where the card belongs, for people."""
        return f"Cell {self.cell} · {self.card['apparatus']['label']}"

    def reading(self, reading_id: UUID) -> tuple[Doc, Doc]:
        """Return (point, reading); NotFoundError when it is not on this card."""
        for point in self.points:
            for reading in point["readings"]:
                if reading["id"] == str(reading_id):
                    return point, reading
        raise NotFoundError("reading", reading_id)


def card_record(session: Session, *, person_id: UUID, card_id: UUID) -> CardRecord:
    """Return the card; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    card = card_of(session, person, card_id)
    facts = gather(session, [card])[card.id]
    order = [row.id for row in round_cards(session, card.round_id)]
    at = order.index(card.id)
    leads = has_role(person, "lead") and card.round.state == "open"
    cell = card.cell
    return CardRecord(
        head=round_head(card.round),
        card=card_json(facts),
        cell=f"{cell.number} {cell.name}",
        method=PROCEDURES[card.procedure].method,
        takes_readings=facts.state not in CLOSED,
        timed=bool(PROCEDURES[card.procedure].waveform) and facts.state not in CLOSED,
        preconditions=_preconditions(facts),
        points=[_point(person, facts, p, leads=leads) for p in card.points],
        returns=[
            {"reason": r.reason, "by": r.by.name, "at": stamp(r.at)}
            for r in facts.returns
        ],
        previous=order[at - 1] if at else None,
        following=order[at + 1] if at + 1 < len(order) else None,
        position=at + 1,
        cards=len(order),
        may_return=leads and facts.state in ("signed", "signing"),
        may_withdraw=leads and facts.state not in ("signed", "withdrawn"),
        disclaimer=criteria.disclaimer(),
        safety=_safety(session, facts),
        together=_together(session, card),
    )


def _safety(session: Session, facts: CardFacts) -> CardSafety | None:
    if facts.scopes is None:
        return None
    return card_safety(facts, safety_of_round(session, facts.card.round))


def card_of_reading(
    session: Session, *, person_id: UUID, reading_id: UUID
) -> CardRecord:
    """Return the card that a reading stands on."""
    person = person_of(session, person_id)
    reading = reading_of(session, person, reading_id)
    return card_record(session, person_id=person_id, card_id=reading.card_id)


def card_of_deficiency(
    session: Session, *, person_id: UUID, deficiency_id: UUID
) -> tuple[CardRecord, Doc]:
    """Return (card, deficiency); the latter with the readings that may close it."""
    person = person_of(session, person_id)
    found = session.get(Deficiency, deficiency_id)
    if found is None:
        raise NotFoundError("deficiency", deficiency_id)
    round_of(session, person, found.round_id)
    record = card_record(session, person_id=person_id, card_id=found.card_id)
    shown = next(d for d in record.card["deficiencies"] if d["id"] == str(found.id))
    open_ = found.closing is None and record.head.state == "open"
    may_close = open_ and may(person, "record")
    return record, {**shown, "may_close": may_close, "retests": _retests(record, shown)}


def _retests(record: CardRecord, deficiency: Doc) -> list[Doc]:
    """Return the readings that hold and may show that it was put right."""
    raised_on = deficiency["reading_id"]
    found = []
    for point in record.points:
        ids = [reading["id"] for reading in point["readings"]]
        if raised_on and raised_on not in ids:
            continue
        for reading in point["readings"]:
            if not reading["superseded_by"] and reading["id"] != raised_on:
                found.append({**reading, "point": point["label"]})
    return found


def _together(session: Session, card: Card) -> list[Doc]:
    """Return the questions of the card; the others of its cell are read for them."""
    if not PROCEDURES[card.procedure].questions:
        return []
    rows = [
        row
        for row in round_cards(session, card.round_id)
        if row.cell_id == card.cell_id
    ]
    own = str(card.id)
    asked = [
        one for one in asked_together(card.cell.lineup, rows) if own in one["cards"]
    ]
    if not asked:
        return []
    facts = gather(session, rows)
    shown = {str(row.id): card_json(facts[row.id]) for row in rows}
    return together_of(asked, shown, named_rules(rows))


def _preconditions(facts: CardFacts) -> list[Doc]:
    known = {item.code: item for item in criteria.load_preconditions()}
    answered = {c.code: c for c in facts.confirmations}
    rows = []
    for code in facts.listed:
        item, answer = known[code], answered.get(code)
        rows.append(
            {
                "code": code,
                "text": answer.text if answer else item.text,
                "source": item.source,
                "part": item.part,
                "state": answer.state if answer else "open",
                "reason": answer.reason if answer else None,
                "by": answer.by.name if answer else None,
                "at": stamp(answer.at) if answer else None,
            }
        )
    return rows


def _point(person: Person, facts: CardFacts, point: Point, *, leads: bool) -> Doc:
    own = [r for r in facts.readings if r.point_id == point.id]
    return {
        "id": point.id,
        "label": point.label,
        "group": point.group,
        "given": point.given,
        "rule": point.rule,
        "readings": [_reading(person, facts, r, leads=leads) for r in reversed(own)],
    }


def _reading(person: Person, facts: CardFacts, reading: Reading, *, leads: bool) -> Doc:
    shown = reading_json(facts, reading)
    open_to_decide = (
        leads
        and not shown["superseded_by"]
        and shown["judgement"]["verdict"] != "within"
    )
    return {
        **shown,
        "device": reading.device,
        "judged": len(reading.judgements),
        "judged_again": judged_again(facts, reading),
        "dispositions": [
            disposition_json(d)
            for d in facts.dispositions
            if d.reading_id == reading.id
        ],
        "own": reading.by_id == person.id,
        "may_dispose": open_to_decide and reading.by_id != person.id,
    }
