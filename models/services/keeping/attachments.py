"""Attach a file to a thing, list what is attached, withdraw it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, BinaryIO
from uuid import UUID

from sqlalchemy import ColumnElement, and_, func, or_, select
from sqlalchemy.orm import Session, joinedload

from models.errors import (
    ConflictError,
    Fault,
    ForbiddenError,
    InputError,
    NotFoundError,
)
from models.files.kinds import KINDS, Kind, refused
from models.files.receive import Limits, Received, receive
from models.files.store import FileStore
from models.schema import (
    Attachment,
    AttachmentWithdrawal,
    Deficiency,
    Person,
    StoredFile,
)
from models.services.keeping.attached_to import may_change, require_change, see
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import LONGEST_TEXT, storable, text_faults
from models.services.people.access import has_role, person_of

USUAL = Limits(bytes=25_000_000, each=40)


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachmentView:
    """A file as it is shown; *withdrawn* are person, time and reason, or None."""

    id: UUID
    subject: str
    subject_id: UUID
    name: str
    kind: Kind
    digest: str
    sent_digest: str
    size: int
    note: str
    by: str
    at: datetime
    withdrawn: tuple[str, datetime, str] | None
    may_withdraw: bool


def attach(
    session: Session,
    store: FileStore,
    *,
    person_id: UUID,
    subject: str,
    subject_id: UUID,
    name: str,
    source: BinaryIO,
    note: str = "",
    limits: Limits = USUAL,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Keep what *source* holds and attach it; return the attachment's id.

    Raises InputError for a file that is refused, and what `add_attachment` raises.
    A server does the two steps apart, so that nobody waits for a picture's pixels.
    """
    require_room(
        session,
        person_id=person_id,
        subject=subject,
        subject_id=subject_id,
        note=note,
        limits=limits,
    )
    received = receive(store, source=source, name=name, limits=limits)
    return add_attachment(
        session,
        person_id=person_id,
        subject=subject,
        subject_id=subject_id,
        received=received,
        note=note,
        limits=limits,
        now=now,
        new_id=new_id,
    )


def require_room(
    session: Session,
    *,
    person_id: UUID,
    subject: str,
    subject_id: UUID,
    note: str,
    limits: Limits,
) -> Person:
    """Return the person if they may attach one more file there, with this note.

    Raises NotFoundError, ForbiddenError, ConflictError, and InputError for a note
    that cannot be kept or a thing that has as many files as it may have.
    """
    person = person_of(session, person_id)
    require_change(session, person, subject, subject_id)
    if len(note) > LONGEST_TEXT or not storable(note):
        message = f"Keep it under {LONGEST_TEXT} characters, of letters and signs."
        raise InputError(Fault(field="note", message=message))
    held = select(func.count()).select_from(Attachment)
    if session.scalars(held.where(*_of(subject, subject_id))).one() >= limits.each:
        raise refused(
            f"There are {limits.each} files here already, the most that this "
            "installation keeps for one thing (WITNESSMARK_FILES_EACH)."
        )
    return person


def add_attachment(
    session: Session,
    *,
    person_id: UUID,
    subject: str,
    subject_id: UUID,
    received: Received,
    note: str,
    limits: Limits,
    now: datetime,
    new_id: Callable[[], UUID],
    taken: Mapping[str, Any] | None = None,
    author_id: UUID | None = None,
) -> UUID:
    """Put a file that is in the store on record; return the attachment's id.

    *taken*: what the log says besides of a photograph that a tablet took. *author_id*:
    whose it is, where the person brings what somebody else could not send.

    Raises what `require_room` raises, and InputError where the same content is
    attached there already.
    """
    take_turn(session)
    person = require_room(
        session,
        person_id=person_id,
        subject=subject,
        subject_id=subject_id,
        note=note,
        limits=limits,
    )
    _refuse_twice(session, subject, subject_id, received)
    if session.get(StoredFile, received.digest) is None:
        session.add(
            StoredFile(
                digest=received.digest, size=received.size, kind=received.kind, at=now
            )
        )
        session.flush()
    made = Attachment(
        id=new_id(),
        subject=subject,
        subject_id=subject_id,
        digest=received.digest,
        sent_digest=received.sent_digest,
        name=received.name,
        note=note.strip(),
        by_id=author_id or person.id,
        at=now,
    )
    session.add(made)
    append_log(
        session,
        actor_id=made.by_id,
        action="attach file",
        subject=f"{subject} {subject_id}",
        body={
            "attachment": made.id,
            "digest": made.digest,
            "size": received.size,
            "kind": received.kind,
            "sent_digest": made.sent_digest,
            "name": made.name,
            "note": made.note,
            **({"photograph": taken} if taken else {}),
        },
        now=now,
    )
    return made.id


def withdraw(
    session: Session,
    *,
    person_id: UUID,
    attachment_id: UUID,
    reason: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> AttachmentView:
    """Say that a file does not count any more, and why; it stays to be read.

    Who attached it may, or a lead. Raises NotFoundError, ForbiddenError,
    ConflictError, and InputError without a reason.
    """
    take_turn(session)
    person = person_of(session, person_id)
    found = _seen(session, person, attachment_id)
    require_change(session, person, found.subject, found.subject_id)
    if found.withdrawal is not None:
        raise ConflictError("This file is withdrawn already.")
    if not _may_withdraw(person, found):
        raise ForbiddenError(
            f"{found.by.name} attached this file: they or a lead withdraw it."
        )
    if faults := text_faults("reason", reason, "why the file does not count"):
        raise InputError(*faults)
    found.withdrawal = AttachmentWithdrawal(
        id=new_id(), reason=reason.strip(), by_id=person.id, at=now
    )
    append_log(
        session,
        actor_id=person.id,
        action="withdraw file",
        subject=f"{found.subject} {found.subject_id}",
        body={"attachment": found.id, "reason": reason.strip()},
        now=now,
    )
    return _view(found, may_withdraw=False)


def attachment(
    session: Session, *, person_id: UUID, attachment_id: UUID
) -> AttachmentView:
    """Return one file; NotFoundError for who may not see its subject."""
    person = person_of(session, person_id)
    found = _seen(session, person, attachment_id)
    may = may_change(session, person, found.subject, found.subject_id)
    return _view(found, may_withdraw=may and _may_withdraw(person, found))


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """What is attached to a thing, oldest first, and whether more may be."""

    files: Sequence[AttachmentView]
    may_add: bool


def attached(
    session: Session, *, person_id: UUID, subject: str, subject_id: UUID
) -> Attached:
    """Return what is attached to a thing; NotFoundError for who may not see it."""
    person = person_of(session, person_id)
    see(session, person, subject, subject_id)
    may = may_change(session, person, subject, subject_id)
    rows = session.scalars(
        select(Attachment)
        .where(*_of(subject, subject_id))
        .options(joinedload(Attachment.file), joinedload(Attachment.by))
        .order_by(Attachment.at, Attachment.id)
    )
    return Attached(
        files=[
            _view(row, may_withdraw=may and _may_withdraw(person, row)) for row in rows
        ],
        may_add=may,
    )


def attachments_of(
    session: Session, *, person_id: UUID, subject: str, subject_id: UUID
) -> Sequence[AttachmentView]:
    """Return what is attached to a thing, oldest first; NotFoundError as above."""
    return attached(
        session, person_id=person_id, subject=subject, subject_id=subject_id
    ).files


def names_of_cards(
    session: Session, card_ids: Sequence[UUID]
) -> dict[UUID, list[Attachment]]:
    """Return what is attached to cards and not withdrawn, oldest first, by card.

    With what is attached to their deficiencies.
    """
    asked = select(Deficiency.id, Deficiency.card_id)
    found_there = session.execute(asked.where(Deficiency.card_id.in_(card_ids)))
    of_card: dict[UUID, UUID] = dict(found_there.all())
    rows = session.scalars(
        select(Attachment)
        .where(
            or_(
                and_(Attachment.subject == "card", Attachment.subject_id.in_(card_ids)),
                and_(
                    Attachment.subject == "deficiency",
                    Attachment.subject_id.in_(of_card),
                ),
            )
        )
        .where(~Attachment.withdrawal.has())
        .options(joinedload(Attachment.by))
        .order_by(Attachment.at, Attachment.id)
    )
    found: dict[UUID, list[Attachment]] = {}
    for row in rows:
        card_id = of_card.get(row.subject_id, row.subject_id)
        found.setdefault(card_id, []).append(row)
    return found


def _of(
    subject: str, subject_id: UUID
) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    return Attachment.subject == subject, Attachment.subject_id == subject_id


def _refuse_twice(
    session: Session, subject: str, subject_id: UUID, received: Received
) -> None:
    same = session.scalars(
        select(Attachment).where(
            *_of(subject, subject_id), Attachment.digest == received.digest
        )
    )
    for other in same:
        if other.withdrawal is None:
            raise refused(f"This file is here already, as {other.name}.")


def _seen(session: Session, person: Person, attachment_id: UUID) -> Attachment:
    found = session.get(Attachment, attachment_id)
    if found is None:
        raise NotFoundError("file", attachment_id)
    try:
        see(session, person, found.subject, found.subject_id)
    except NotFoundError:
        raise NotFoundError("file", attachment_id) from None
    return found


def _may_withdraw(person: Person, found: Attachment) -> bool:
    if found.withdrawal is not None:
        return False
    return found.by_id == person.id or has_role(person, "lead")


def _view(found: Attachment, *, may_withdraw: bool) -> AttachmentView:
    gone = found.withdrawal
    return AttachmentView(
        id=found.id,
        subject=found.subject,
        subject_id=found.subject_id,
        name=found.name,
        kind=KINDS[found.file.kind],
        digest=found.digest,
        sent_digest=found.sent_digest,
        size=found.file.size,
        note=found.note,
        by=found.by.name,
        at=found.at,
        withdrawn=(gone.by.name, gone.at, gone.reason) if gone else None,
        may_withdraw=may_withdraw,
    )
