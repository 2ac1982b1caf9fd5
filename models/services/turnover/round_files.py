"""The files that belong to a round: of it, its cards, and its instruments."""

import json
from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import Session, joinedload

from models.files.kinds import KINDS
from models.schema import Attachment, Card, Deficiency, LogEntry, Reading, Round
from models.services.field.card_facts import CardFacts
from models.services.field.card_values import where
from models.services.field.read_photograph import ORIGINAL_OF
from models.services.keeping.log import stamp


def round_files(
    session: Session, round_: Round, facts: list[CardFacts]
) -> list[dict[str, Any]]:
    """Return every file of a round with its digest, in the order that they came.

    Those of the round, its cards, readings and deficiencies, and those of the
    calibrations that its readings rest on; withdrawn ones too, which say so.
    The original of a photograph names that one (`original_of`).
    """
    places, rows = _places(round_, facts), _rows(session, round_.id)
    scaled = _scaled_of(session, rows)
    return [_file(one, places) | scaled.get(str(one.id), {}) for one in rows]


def _rows(session: Session, round_id: UUID) -> list[Attachment]:
    cards = select(Card.id).where(Card.round_id == round_id)
    readings = select(Reading.id).where(Reading.card_id.in_(cards))
    rests_on = select(Reading.calibration_id).where(Reading.card_id.in_(cards))
    deficiencies = select(Deficiency.id).where(Deficiency.round_id == round_id)
    of = {
        "card": Attachment.subject_id.in_(cards),
        "reading": Attachment.subject_id.in_(readings),
        "deficiency": Attachment.subject_id.in_(deficiencies),
        "calibration": Attachment.subject_id.in_(rests_on),
        "round": Attachment.subject_id == round_id,
    }
    found = (
        select(Attachment)
        .where(or_(*(and_(Attachment.subject == s, w) for s, w in of.items())))
        .options(joinedload(Attachment.file), joinedload(Attachment.withdrawal))
        .order_by(Attachment.at, Attachment.id)
    )
    return list(session.scalars(found))


def _scaled_of(
    session: Session, rows: Sequence[Attachment]
) -> dict[str, dict[str, str]]:
    """Return of each original the photograph that it is the original of, by its id.

    The log alone says it, which is long: it is read where a note begins like an
    original's, as somebody may have typed it too.
    """
    maybe = [one for one in rows if one.note.startswith(ORIGINAL_OF)]
    if not maybe:
        return {}
    subjects = {f"{one.subject} {one.subject_id}" for one in maybe}
    bodies = session.scalars(
        select(LogEntry.body)
        .where(LogEntry.action == "attach file")
        .where(LogEntry.subject.in_(subjects))
    )
    said = [json.loads(body) for body in bodies]
    found = {one["attachment"]: one.get("photograph", {}) for one in said}
    return {
        at: {"original_of": taken["original_of"]}
        for at, taken in found.items()
        if "original_of" in taken
    }


def _places(round_: Round, facts: list[CardFacts]) -> dict[tuple[str, UUID], str]:
    """Return what each thing is called that a file may be attached to."""
    said = {("round", round_.id): round_.title}
    for one in facts:
        said["card", one.card.id] = where(one)
        for found in one.deficiencies:
            number = f"deficiency D-{found.number:03d}"
            said["deficiency", found.id] = f"{where(one)} · {number}"
        for reading in one.readings:
            said["reading", reading.id] = f"{where(one)} · {reading.point.label}"
            if reading.calibration:
                said["calibration", reading.calibration.id] = (
                    f"{reading.read_with}, certificate "
                    f"{reading.calibration.certificate_no}"
                )
    return said


def _file(found: Attachment, places: Mapping[tuple[str, UUID], str]) -> dict[str, Any]:
    return {
        "where": places[found.subject, found.subject_id],
        **attachment_json(found),
    }


def attachment_json(found: Attachment) -> dict[str, Any]:
    """Return an attachment as plain JSON."""
    gone = found.withdrawal
    return {
        "id": str(found.id),
        "subject": found.subject,
        "subject_id": str(found.subject_id),
        "name": found.name,
        "media_type": KINDS[found.file.kind].media_type,
        "size": found.file.size,
        "sha256": found.digest,
        "sent_sha256": found.sent_digest,
        "note": found.note,
        "by": found.by.name,
        "at": stamp(found.at),
        "withdrawn": {"by": gone.by.name, "at": stamp(gone.at), "reason": gone.reason}
        if gone
        else None,
    }
