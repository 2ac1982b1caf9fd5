"""What an export holds beside rows: each round's record, packages, files, the log."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, undefer

from models.schema import Attachment, Authority, LogEntry, Package, PackageFile, Round
from models.services.export.rows import AT_ONCE, ScopeRows
from models.services.field.card_facts import gather, round_cards
from models.services.keeping.log import link_content, texted
from models.services.turnover.round_files import attachment_json
from models.services.turnover.seals_wanted import seals_wanted

LOGGED = (  # kinds of things that the log has entries on
    *("site", "lineup", "cell", "apparatus", "given_criterion", "instrument"),
    *("calibration", "round", "card", "point", "reading", "deficiency", "rejudging"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundInfo:
    """A round by the names that people know it by."""

    id: UUID
    site: str
    lineup: str
    title: str


def round_info(session: Session, round_id: UUID) -> RoundInfo:
    """Return the names of a round."""
    found = session.get_one(Round, round_id)
    return RoundInfo(
        id=found.id,
        site=found.lineup.site.name,
        lineup=found.lineup.name,
        title=found.title,
    )


def round_record(session: Session, round_id: UUID) -> dict[str, Any]:
    """Return what a package would say of the round as it stands; numbers as text."""
    found = session.get_one(Round, round_id)
    facts = list(gather(session, round_cards(session, round_id)).values())
    record: dict[str, Any] = texted(seals_wanted(session, found, facts).content)
    return record


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedFile:
    """The newest file of a package: earlier signatures are inside it."""

    revision: int
    attempt: int
    file_id: UUID


def packages_of(session: Session, round_id: UUID) -> list[SignedFile]:
    """Return the packages of a round that somebody signed, the oldest first."""
    rows = session.execute(
        select(Package.revision, Package.attempt, PackageFile.id)
        .join(PackageFile)
        .where(Package.round_id == round_id)
        .order_by(Package.revision, Package.attempt, PackageFile.seq)
    )
    newest = {(row.revision, row.attempt): row.id for row in rows}
    return [
        SignedFile(revision=revision, attempt=attempt, file_id=key)
        for (revision, attempt), key in newest.items()
    ]


def signed_pdf(session: Session, file_id: UUID) -> bytes:
    """Return a package's file as it was signed."""
    found = select(PackageFile).where(PackageFile.id == file_id)
    return session.scalars(found.options(undefer(PackageFile.pdf))).one().pdf


def attached_files(session: Session, rows: ScopeRows) -> Iterator[dict[str, Any]]:
    """Yield every attachment of the scope as plain JSON, in the order of their keys."""
    keys = sorted(rows.keys_of("attachment"))
    for start in range(0, len(keys), AT_ONCE):
        found = (
            select(Attachment)
            .where(Attachment.id.in_(keys[start : start + AT_ONCE]))
            .options(joinedload(Attachment.file), joinedload(Attachment.withdrawal))
            .order_by(Attachment.id)
        )
        for one in session.scalars(found):
            yield attachment_json(one)


def log_lines(session: Session, rows: ScopeRows) -> Iterator[dict[str, Any]]:
    """Yield each entry of the log on a thing of the scope, as its hash is taken.

    Whoever has one can take the hash again: over the text of `previous` and the
    canonical JSON (RFC 8785) of the entry without `previous` and `hash`.
    """
    things = {key.bytes for name in LOGGED for key in rows.keys_of(name)}
    found = select(LogEntry).order_by(LogEntry.seq)
    for entry in session.scalars(found.execution_options(yield_per=AT_ONCE)):
        if _key_in(entry.subject) in things:
            yield {
                **link_content(
                    *(entry.seq, entry.at, entry.actor_id, entry.action),
                    *(entry.subject, json.loads(entry.body)),
                ),
                "previous": entry.previous,
                "hash": entry.hash,
            }
        session.expunge(entry)


def _key_in(subject: str) -> bytes | None:
    try:
        return UUID(subject.rpartition(" ")[2]).bytes
    except ValueError:
        return None


def root_certificate(session: Session) -> str:
    """Return the certificate that every person's rests on."""
    return session.scalars(select(Authority)).one().certificate_pem
