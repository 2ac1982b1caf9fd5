"""How the installation stands: its database, log, files, tablets and clock."""

from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple
from uuid import UUID

from sqlalchemy import func, select, text
from sqlalchemy.orm import Session

from models.schema import LogEntry, Person, Reading, StoredFile
from models.services.keeping.log import head
from models.services.people.access import person_of, require
from models.services.people.first_start import authority_fingerprint

MOST_TABLETS = 30
SIZE = {
    "sqlite": "SELECT page_count * page_size FROM pragma_page_count, pragma_page_size",
    "postgresql": "SELECT pg_database_size(current_database())",
}


class Tablet(NamedTuple):
    """A device that readings came from: when last, and who had it."""

    device: str
    last_at: datetime
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """What the database says of the installation; sizes in bytes."""

    database: str  # sqlite or postgresql
    size: int
    revision: str
    entries: int
    head: str
    last_entry_at: datetime | None
    put_back_at: datetime | None  # when a clock that ran ahead was put right
    files: int
    file_size: int
    tablets: list[Tablet]
    authority: str  # fingerprint


def installation(session: Session, *, person_id: UUID) -> Installation:
    """Return how the installation stands; ForbiddenError but for an administrator."""
    require(person_of(session, person_id), "administer")
    kind = session.get_bind().dialect.name
    entries, last_hash = head(session)
    put_back = select(LogEntry.at).where(LogEntry.action == "put clock back")
    return Installation(
        database=kind,
        size=session.scalars(text(SIZE[kind])).one(),
        revision=session.scalars(text("SELECT version_num FROM alembic_version")).one(),
        entries=entries,
        head=last_hash,
        last_entry_at=session.scalars(
            select(LogEntry.at).where(LogEntry.seq == entries)
        ).first(),
        put_back_at=session.scalars(
            put_back.order_by(LogEntry.seq.desc()).limit(1)
        ).first(),
        files=session.scalars(select(func.count()).select_from(StoredFile)).one(),
        file_size=int(session.scalars(select(func.sum(StoredFile.size))).one() or 0),
        tablets=_tablets(session),
        authority=authority_fingerprint(session),
    )


def _tablets(session: Session) -> list[Tablet]:
    newest = func.row_number().over(
        partition_by=Reading.device, order_by=(Reading.arrived_at.desc(), Reading.id)
    )
    rows = select(
        Reading.device, Reading.arrived_at, Reading.by_id, newest.label("place")
    ).subquery()
    found = session.execute(
        select(rows.c.device, rows.c.arrived_at, Person.name)
        .join(Person, Person.id == rows.c.by_id)
        .where(rows.c.place == 1)
        .order_by(rows.c.arrived_at.desc(), rows.c.device)
        .limit(MOST_TABLETS)
    )
    return [Tablet(*row) for row in found]
