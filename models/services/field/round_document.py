"""The round document: all that a tablet needs to work on a round."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any, cast
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models import criteria
from models.fields import field_for_tablet, narrowed
from models.procedures import PROCEDURES
from models.procedures.procedure import Procedure
from models.record.instrument import APPLIED, Range
from models.record.shapes.card import Card as CardShape
from models.record.shapes.round_document import (
    AskedTogether,
    DocumentCell,
    DocumentInstrument,
    DocumentLineup,
    DocumentPerson,
    DocumentRange,
    DocumentRound,
    DocumentSite,
    Precondition,
    RoundDocument,
)
from models.record.shapes.words import Role, RoundKind, RoundState
from models.schema import Card, Cell, Instrument, Lineup, Person, Round
from models.services.field.card_facts import gather, round_cards
from models.services.field.card_news import cards_cursor
from models.services.field.card_view import card_json, named_rules
from models.services.field.together import asked_together, questions_json
from models.services.keeping.attachments import names_of_cards
from models.services.keeping.log import stamp
from models.services.owner.baseline import add_baseline, baseline_values
from models.services.people.access import acting_role, person_of, round_of
from models.services.safety.document import safety_document
from models.services.safety.round_safety import safety_of_round
from models.services.setup.instrument_ranges import ranges_of
from models.services.setup.nameplate import ratings_line


def round_document(
    session: Session, *, person_id: UUID, round_id: UUID, now: datetime
) -> RoundDocument:
    """Return all that a tablet needs to work on the round."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    lineup = round_.lineup
    cursor = cards_cursor(session)  # before the cards are read: none is missed
    rows = round_cards(session, round_.id)
    safety = safety_of_round(session, round_, now=now, person=person, cards=rows)
    facts = gather(session, rows, {round_.id: safety})
    cards = [card_json(facts[row.id]) for row in rows]
    _add_attachments(session, cards, rows)
    if round_.kind == "maintenance":
        add_baseline(cards, rows, baseline_values(session, lineup.id))
    return {
        "v": 1,
        "made_at": stamp(now),
        "person": _person_json(person),
        "site": _site_json(lineup),
        "lineup": _lineup_json(lineup),
        "round": _round_json(round_),
        "disclaimer": criteria.disclaimer(),
        "cells": _cells_json(session, lineup, rows),
        "preconditions": preconditions_json(),
        "procedures": procedures_json(),
        "instruments": instruments_json(session, person.organisation_id),
        "questions": questions_json(),
        "together": cast("list[AskedTogether]", asked_together(lineup, rows)),
        "rules": named_rules(rows),
        "cards": cast("list[CardShape]", cards),
        "cards_cursor": cursor,
        "safety": safety_document(session, round_, safety.book, now),
    }


def _add_attachments(
    session: Session, cards: Iterable[dict[str, Any]], rows: Sequence[Card]
) -> None:
    """Name beside each card what is attached to it; the files are not sent along."""
    attached = names_of_cards(session, [row.id for row in rows])
    for card, row in zip(cards, rows, strict=True):
        card["attachments"] = [
            {
                "id": str(one.id),
                "name": one.name,
                "note": one.note,
                "by": one.by.name,
                "at": stamp(one.at),
                "deficiency_id": str(one.subject_id)
                if one.subject == "deficiency"
                else None,
            }
            for one in attached.get(row.id, [])
        ]


def _person_json(person: Person) -> DocumentPerson:
    role = cast("Role", acting_role(person, "record"))
    return {"id": str(person.id), "name": person.name, "role": role}


def _site_json(lineup: Lineup) -> DocumentSite:
    site = lineup.site
    return {
        "id": str(site.id),
        "name": site.name,
        "address": site.address,
        "zone": site.zone,
    }


def _lineup_json(lineup: Lineup) -> DocumentLineup:
    return {
        "id": str(lineup.id),
        "name": lineup.name,
        "gear": lineup.gear,
        "rated_kv": lineup.rated_kv,
        "ratings": ratings_line(lineup),
    }


def _round_json(round_: Round) -> DocumentRound:
    return {
        "id": str(round_.id),
        "title": round_.title,
        "kind": cast("RoundKind", round_.kind),
        "state": cast("RoundState", round_.state),
        "revision": round_.revision,
        "earlier_list": round_.earlier_list,
    }


def _cells_json(
    session: Session, lineup: Lineup, rows: list[Card]
) -> list[DocumentCell]:
    cells = session.scalars(
        select(Cell)
        .where(Cell.lineup_id == lineup.id, Cell.removed.is_(False))
        .order_by(Cell.position)
    )
    return [
        {
            "id": str(cell.id),
            "number": cell.number,
            "name": cell.name,
            "kind": cell.kind,
            "bus": cell.bus_label,
            "cards": [str(r.id) for r in rows if r.cell_id == cell.id],
        }
        for cell in cells
    ]


def preconditions_json() -> dict[str, Precondition]:
    """Return every precondition by code."""
    return {
        item.code: {
            "text": item.text,
            "source": item.source,
            "part": item.part,
            "after": item.part == "after",
        }
        for item in criteria.load_preconditions()
    }


def procedures_json() -> dict[str, Any]:
    """Return what a card of each procedure asks for."""
    return {
        name: {
            "title": procedure.title,
            "method": procedure.method,
            "units": list(procedure.units),
            "default_unit": procedure.default_unit,
            "asks": [_ask(ask) for ask in procedure.asks],
            "outcomes": list(procedure.outcomes),
            "series": [asdict(series) for series in procedure.series],
            **({"by_eye": True} if procedure.by_eye else {}),
            **({"waveform": procedure.waveform} if procedure.waveform else {}),
            **({"signed": True} if procedure.signed else {}),
            **_answers(procedure),
        }
        for name, procedure in PROCEDURES.items()
    }


def _answers(procedure: Procedure) -> dict[str, Any]:
    """Return what its readings give to questions; nothing where they give none."""
    given = [one.as_json() for one in procedure.questions]
    return {"questions": given} if given else {}


def _ask(ask: Mapping[str, Any]) -> dict[str, Any]:
    """Return a condition with what its field may hold."""
    about = narrowed(ask["name"], tuple(ask["choices"]))
    return {
        **ask,
        "field": field_for_tablet(about),
        "applied": ask["name"] in APPLIED,
    }


def instruments_json(
    session: Session, organisation_id: UUID
) -> list[DocumentInstrument]:
    """Return the firm's register, each with its newest calibration."""
    rows = session.scalars(
        select(Instrument)
        .where(Instrument.organisation_id == organisation_id)
        .options(selectinload(Instrument.calibrations), selectinload(Instrument.ranges))
        .order_by(Instrument.tag)
    )
    return [_instrument_json(row) for row in rows]


def _instrument_json(row: Instrument) -> DocumentInstrument:
    last = row.calibrations[-1] if row.calibrations else None
    return {
        "id": str(row.id),
        "tag": row.tag,
        "name": row.name,
        "serial": row.serial,
        "procedures": row.procedures,
        "retired": row.retired_on is not None,
        "ranges": [_range_json(one) for one in ranges_of(row)],
        "calibrated_on": last.calibrated_on.isoformat() if last else None,
        "due_on": last.due_on.isoformat() if last else None,
    }


def _range_json(one: Range) -> DocumentRange:
    shown: Any = one.as_json()
    return cast(DocumentRange, shown)
