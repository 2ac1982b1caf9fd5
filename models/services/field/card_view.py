"""Cards as plain JSON values: what the tablet and the pages show."""

from collections.abc import Iterable
from itertools import pairwise
from typing import Any

from models.procedures import PROCEDURES
from models.record.inspection import KINDS, SAID
from models.record.signing import performed_statement, performers
from models.record.values import DECISIONS, SEVERITIES
from models.record.values import Card as CardValue
from models.schema import (
    Agreement,
    Apparatus,
    Card,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    Disposition,
    InspectionPoint,
    Reading,
    Rejudging,
)
from models.schema.confirmations import Confirmation
from models.services.field.card_facts import CardFacts, is_refused
from models.services.keeping.log import stamp


def card_json(facts: CardFacts) -> dict[str, Any]:
    """Return the card's JSON of the round document (docs/architecture.md)."""
    card = facts.card
    return {
        "id": str(card.id),
        "cell_id": str(card.cell_id),
        "apparatus": {
            "id": str(card.apparatus_id),
            "label": card.apparatus.label,
            "kind": card.apparatus.kind,
            **identity_json(card.apparatus),
        },
        "procedure": card.procedure,
        "title": PROCEDURES[card.procedure].title,
        "detail": card.detail,
        "position": card.position,
        "state": facts.state,
        "assigned_to": card.assigned_to.name if card.assigned_to else None,
        "returned": _returned_json(facts.returns),
        "withdrawn": _withdrawn_json(facts.withdrawal),
        "unit": card.unit,
        "defaults": card.defaults,
        "preconditions": facts.listed,
        "confirmed": [_confirmation_json(c) for c in facts.confirmations],
        "points": [
            {
                "id": str(point.id),
                "label": point.label,
                "group": point.group,
                "rule_id": point.rule_digest,
                "given": point.given,
                "baseline": None,
            }
            for point in card.points
        ],
        "readings": [reading_json(facts, reading) for reading in facts.readings],
        "notes": [
            {"text": n.text, "by": n.by.name, "at": stamp(n.at)} for n in facts.notes
        ],
        "deficiencies": [deficiency_json(d) for d in facts.deficiencies],
        "signatures": _signatures_json(facts),
        "performers": _performers_json(facts.value),
        "inspections": [inspection_json(point) for point in facts.inspections],
    }


def identity_json(apparatus: Apparatus) -> dict[str, Any]:
    """Return maker, type, serial number and year; None for what is not known."""
    known = apparatus.identity
    return {name: known.get(name) for name in ("maker", "type", "serial", "built_year")}


def named_rules(cards: Iterable[Card]) -> dict[str, Any]:
    """Return the rules that the points of *cards* name, each once."""
    points = [point for card in cards for point in card.points]
    return {point.rule_digest: point.rule for point in points}


def reading_json(facts: CardFacts, reading: Reading) -> dict[str, Any]:
    """Return a reading with the judgement and the disposition that hold.

    `judged_before` is there only where somebody judged it again before turnover.
    """
    disposition = facts.disposition_of(reading)
    superseded_by = facts.superseded.get(reading.id)
    before = judged_before(facts, reading)
    return {
        "id": str(reading.id),
        "point_id": str(reading.point_id),
        "text": reading.text,
        "unit": reading.unit,
        "conditions": reading.conditions,
        "instrument_id": str(reading.instrument_id or ""),
        "instrument": reading.read_with,
        "calibrated": reading.calibrated,
        "by": reading.by.name,
        "by_id": str(reading.by_id),
        "taken_at": stamp(reading.taken_at),
        "arrived_at": stamp(reading.arrived_at),
        "supersedes": str(reading.supersedes_id) if reading.supersedes_id else None,
        "superseded_by": str(superseded_by) if superseded_by else None,
        "reason": reading.reason,
        "judgement": facts.say(reading.judgement),
        "disposition": disposition and disposition_json(disposition),
        **({"judged_before": before} if before else {}),
    }


def judged_before(facts: CardFacts, reading: Reading) -> list[dict[str, Any]]:
    """Return each verdict that judging again replaced before turnover, and why."""
    shown = []
    standing = [j for j in reading.judgements if not j.after_turnover]
    for old, new in pairwise(standing):
        if new.rejudging is not None:
            said = facts.say(old)
            shown.append({"judgement": said, **rejudging_json(new.rejudging)})
    return shown


def judged_again(facts: CardFacts, reading: Reading) -> dict[str, Any] | None:
    """Return the newest verdict given after turnover, and why; None without one."""
    found = reading.judged_again
    if found is None or found.rejudging is None:
        return None
    return {"judgement": facts.say(found), **rejudging_json(found.rejudging)}


def rejudging_json(row: Rejudging) -> dict[str, Any]:
    """Return who judged again, when, by which editions and why."""
    return {
        "by": row.by.name,
        "at": stamp(row.at),
        "what": row.what,
        "reason": row.reason,
    }


def disposition_json(disposition: Disposition) -> dict[str, Any]:
    """Return a disposition for people."""
    return {
        "decision": disposition.decision,
        "decision_text": DECISIONS[disposition.decision],
        "reason": disposition.reason,
        "by": disposition.by.name,
        "at": stamp(disposition.at),
        "answer": _answer_json(disposition.agreement),
    }


def deficiency_json(deficiency: Deficiency) -> dict[str, Any]:
    """Return a deficiency with its closing, if there is one."""
    closing = deficiency.closing
    return {
        "id": str(deficiency.id),
        "number": f"D-{deficiency.number:03d}",
        "text": deficiency.text,
        "severity": deficiency.severity,
        "severity_text": SEVERITIES[deficiency.severity],
        "holder": deficiency.holder,
        "reading_id": str(deficiency.reading_id) if deficiency.reading_id else None,
        "card_id": str(deficiency.card_id),
        "state": "closed" if closing else "open",
        "raised_by": deficiency.by.name,
        "raised_at": stamp(deficiency.at),
        "closed_by": closing.by.name if closing else None,
        "closed_at": stamp(closing.at) if closing else None,
        "closing_text": closing.text if closing else None,
        "closing_reading_id": (
            str(closing.reading_id) if closing and closing.reading_id else None
        ),
    }


def _confirmation_json(confirmation: Confirmation) -> dict[str, Any]:
    return {
        "code": confirmation.code,
        "state": confirmation.state,
        "reason": confirmation.reason,
        "by": confirmation.by.name,
        "at": stamp(confirmation.at),
    }


def _signatures_json(facts: CardFacts) -> list[dict[str, Any]]:
    holding = facts.signed
    return [
        {
            "by": s.by.name,
            "meaning": s.meaning,
            "at": stamp(s.at),
            "key": s.fingerprint,
            "holds": s in holding,
        }
        for s in facts.signatures
    ]


def _performers_json(card: CardValue) -> list[dict[str, Any]]:
    """Return who has to sign, with what they say by it."""
    return [
        {
            "id": str(one.id),
            "name": one.name,
            "signed": one.signed,
            "statement": performed_statement(card, one.id),
        }
        for one in performers(card)
    ]


def _returned_json(returns: Iterable[CardReturn]) -> dict[str, Any] | None:
    last = max(returns, key=lambda r: r.at, default=None)
    return _reasoned_json(last)


def _withdrawn_json(row: CardWithdrawal | None) -> dict[str, Any] | None:
    if row is None or is_refused(row.agreement):
        return None
    return {
        **_reasoned(row),
        "answer": _answer_json(row.agreement),
    }


def _answer_json(row: Agreement | None) -> dict[str, Any] | None:
    if row is None:
        return None
    return {"answer": row.answer, **_reasoned(row)}


def _reasoned(row: CardReturn | CardWithdrawal | Agreement) -> dict[str, Any]:
    return {"reason": row.reason, "by": row.by.name, "at": stamp(row.at)}


def _reasoned_json(row: CardReturn | CardWithdrawal | None) -> dict[str, Any] | None:
    return None if row is None else _reasoned(row)


def inspection_json(point: InspectionPoint) -> dict[str, Any]:
    """Return the point as the tablet, the pages and the package hold it."""
    answer = point.answer
    return {
        "id": str(point.id),
        "kind": point.kind,
        "kind_text": KINDS[point.kind],
        "party": point.party,
        "own_account": point.person_id is not None,
        "notice_hours": point.notice_hours,
        "reason": point.reason,
        "by": point.by.name,
        "at": stamp(point.at),
        "notices": [
            {
                "given_at": stamp(one.given_at),
                "work_at": stamp(one.work_at),
                "how": one.how,
                "by": one.by.name,
            }
            for one in point.notices
        ],
        "answer": answer
        and {
            "answer": answer.answer,
            "answer_text": SAID[answer.answer],
            "remark": answer.remark,
            "by": answer.by.name,
            "at": stamp(answer.at),
            "own": answer.by_id == point.person_id,
        },
    }
