"""Photographs of a card that a tablet sends in parts: each becomes an attachment."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, ForbiddenError, InputError
from models.files.kinds import KINDS, kind_of, refused
from models.files.parts import LONGEST_PART, PartsFolder
from models.files.receive import Limits, Received, receive, too_large
from models.files.store import FileStore, digest_of
from models.schema import Attachment, Card, Deficiency
from models.services.field.read_photograph import Photograph, caption
from models.services.keeping.attachments import add_attachment, require_room
from models.services.people.access import card_of, person_of, require, round_of


def require_sender(session: Session, *, person_id: UUID, round_id: UUID) -> None:
    """Raise NotFoundError or ForbiddenError for who records nothing on the round."""
    person = person_of(session, person_id)
    round_of(session, person, round_id)
    require(person, "record")


def begin_photograph(
    session: Session,
    parts: PartsFolder,
    *,
    person_id: UUID,
    round_id: UUID,
    photograph: Photograph,
    limits: Limits,
    now: datetime,
) -> int:
    """Take note of a photograph that is to come; return how many bytes are here.

    All of them where it is on record already. Raises what `require_room` raises,
    ConflictError where its id stands for another file, InputError where too large.
    """
    parts.clear_old(now)
    if is_known(session, photograph, person_id):
        return photograph.size
    require_takeable(
        session,
        person_id=person_id,
        round_id=round_id,
        photograph=photograph,
        limits=limits,
    )
    before = parts.said(photograph.id)
    if before is not None and before["person"] != str(person_id):
        raise of_another()
    told = photograph.as_json()
    parts.begin(
        photograph.id, {**told, "person": str(person_id), "round": str(round_id)}
    )
    return parts.received(photograph.id)


def require_takeable(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    photograph: Photograph,
    limits: Limits,
) -> None:
    """Raise what `require_room` raises, and InputError for one that is too large."""
    if photograph.size > limits.bytes:
        raise refused(too_large(limits))
    card = _card(session, person_id, round_id, photograph)
    subject, subject_id = _about(session, photograph, card)
    require_room(
        session,
        person_id=person_id,
        subject=subject,
        subject_id=subject_id,
        note=_note(session, photograph, card),
        limits=limits,
    )


def of_another() -> ForbiddenError:
    """Return the error for a photograph that somebody else is sending."""
    return ForbiddenError("Somebody else took this photograph: they send it.")


def add_part(
    parts: PartsFolder, said: Mapping[str, Any], *, start: int, part: bytes
) -> int:
    """Keep a part; return how many bytes are here. InputError for one too long."""
    if len(part) > LONGEST_PART or start < 0:
        message = f"Send parts of at most {LONGEST_PART // 1024} kB, in order."
        raise InputError(Fault(field="part", message=message))
    if start + len(part) > said["size"]:
        message = "More arrives than was said. Begin the photograph again."
        raise InputError(Fault(field="part", message=message))
    return parts.add(UUID(said["photo"]), start, part)


def receive_whole(
    parts: PartsFolder, store: FileStore, photograph: Photograph, limits: Limits
) -> Received:
    """Check a photograph that is here whole, and keep it; asks no database.

    Raises InputError where it is none or is not what was announced: its parts are
    then forgotten.
    """
    try:
        with parts.path(photograph.id).open("rb") as source:
            if photograph.digest and digest_of(source) != photograph.digest:
                message = "What arrived is not what the tablet sent: it is sent again."
                raise InputError(Fault(field="digest", message=message))
            source.seek(0)
            _require_picture(parts, photograph)
            return receive(
                store,
                source=source,
                name=photograph.name,
                limits=limits,
                original=photograph.original_of is not None,
            )
    except InputError:
        parts.drop(photograph.id)
        raise


def _require_picture(parts: PartsFolder, photograph: Photograph) -> None:
    kind = kind_of(parts.path(photograph.id))
    if kind != "webp" and not KINDS[kind].is_picture:
        raise refused("This is no photograph: the file holds no JPEG, PNG or WebP.")


def attach_photograph(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    photograph: Photograph,
    received: Received,
    limits: Limits,
    now: datetime,
    author_id: UUID | None = None,
    said: Mapping[str, Any] | None = None,
) -> None:
    """Put a photograph that is in the store on record; nothing where it is there.

    *author_id*: who took it, where the person brings it for them; *said*: what the log
    says then besides.
    """
    if is_known(session, photograph, author_id or person_id):
        return
    card = _card(session, person_id, round_id, photograph)
    subject, subject_id = _about(session, photograph, card)
    add_attachment(
        session,
        person_id=person_id,
        subject=subject,
        subject_id=subject_id,
        received=received,
        note=_note(session, photograph, card),
        limits=limits,
        now=now,
        new_id=lambda: photograph.id,
        taken={**photograph.logged(), **(said or {})},
        author_id=author_id,
    )


def _card(
    session: Session, person_id: UUID, round_id: UUID, photograph: Photograph
) -> Card:
    card = card_of(session, person_of(session, person_id), photograph.card_id)
    if card.round_id != round_id:
        message = "The card belongs to another round."
        raise InputError(Fault(field="card_id", message=message))
    return card


def _about(session: Session, photograph: Photograph, card: Card) -> tuple[str, UUID]:
    """Return what it is attached to: a deficiency of the card, else the card.

    An original goes where its scaled picture is.
    """
    scaled = _scaled(session, photograph)
    if scaled is not None:
        return scaled.subject, scaled.subject_id
    found = _deficiency(session, photograph)
    return ("deficiency", found.id) if found else ("card", card.id)


def _note(session: Session, photograph: Photograph, card: Card) -> str:
    scaled = _scaled(session, photograph)
    found = _deficiency(session, photograph)
    return caption(photograph, card, found, scaled.name if scaled else None)


def _deficiency(session: Session, photograph: Photograph) -> Deficiency | None:
    """Return the deficiency of the card that it is about; None for no such one."""
    named = photograph.deficiency_id
    found = session.get(Deficiency, named) if named else None
    return found if found and found.card_id == photograph.card_id else None


def _scaled(session: Session, photograph: Photograph) -> Attachment | None:
    """Return the picture on record that this is the original of; None for no original.

    Raises ConflictError where that is not on record at the card: it goes first.
    """
    if photograph.original_of is None:
        return None
    found = session.get(Attachment, photograph.original_of)
    if found is None or not _is_of_card(session, found, photograph.card_id):
        raise ConflictError(
            "The photograph that this is the original of is not on record at this "
            "card: send that one first."
        )
    return found


def _is_of_card(session: Session, found: Attachment, card_id: UUID) -> bool:
    if found.subject != "deficiency":
        return found.subject_id == card_id
    deficiency = session.get(Deficiency, found.subject_id)
    return deficiency is not None and deficiency.card_id == card_id


def is_known(session: Session, photograph: Photograph, person_id: UUID) -> bool:
    """Return whether it is on record as this person's.

    Raises ForbiddenError where it is somebody else's, ConflictError where its id
    stands for another file.
    """
    found = session.get(Attachment, photograph.id)
    if found is None:
        return False
    if found.by_id != person_id:
        raise of_another()
    same_card = _is_of_card(session, found, photograph.card_id)
    same_file = photograph.digest in (None, found.sent_digest)
    if not same_card or not same_file:
        raise ConflictError(
            "Another photograph is on record under this one's identifier. This one "
            "stays on the tablet: save it there as a file and add it as a new one."
        )
    return True
