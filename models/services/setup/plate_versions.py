"""Versions of nameplates: each change is one more, with who, when and why."""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.schema import Apparatus, Lineup, NameplateVersion, Person
from models.services.setup.nameplate import LINEUP_PLATE, lineup_plate

IDENTITY = ("maker", "type", "serial", "built_year")


def plate_of(subject: Apparatus | Lineup) -> dict[str, Any]:
    """Return the whole nameplate as it stands, by field."""
    return subject.plate if isinstance(subject, Apparatus) else lineup_plate(subject)


def set_plate(subject: Apparatus | Lineup, plate: Mapping[str, Any]) -> None:
    """Put *plate* onto the row; what it does not say is not known any more."""
    columns = IDENTITY if isinstance(subject, Apparatus) else LINEUP_PLATE
    for name in columns:
        setattr(subject, name, plate.get(name))
    if isinstance(subject, Apparatus):
        rest = {name: one for name, one in plate.items() if name not in IDENTITY}
        subject.nameplate = rest


def add_version(
    session: Session,
    subject: Apparatus | Lineup,
    *,
    reason: str,
    by: Person,
    now: datetime,
    new_id: Callable[[], UUID],
    first: bool = False,
) -> NameplateVersion:
    """Keep the nameplate of *subject*, as it stands now, as its next version.

    *first*: nothing was kept before, which need not be looked for then.
    """
    last = None if first else versions_of(session, [subject]).get(subject.id)
    version = NameplateVersion(
        id=new_id(),
        lineup_id=subject.id if isinstance(subject, Lineup) else None,
        apparatus_id=subject.id if isinstance(subject, Apparatus) else None,
        number=last.number + 1 if last else 1,
        plate=plate_of(subject),
        reason=reason,
        by_id=by.id,
        at=now,
    )
    session.add(version)
    return version


def versions_of(
    session: Session, subjects: Iterable[Apparatus | Lineup]
) -> dict[UUID, NameplateVersion]:
    """Return the version that holds of each, by the id of the thing or the lineup."""
    found: dict[UUID, NameplateVersion] = {}
    for version in every_version(session, [one.id for one in subjects]):
        found[version.apparatus_id or version.lineup_id or version.id] = version
    return found


def every_version(session: Session, subjects: Iterable[UUID]) -> list[NameplateVersion]:
    """Return the versions of things and lineups, the oldest first."""
    ids = list(subjects)
    return list(
        session.scalars(
            select(NameplateVersion)
            .where(
                NameplateVersion.apparatus_id.in_(ids)
                | NameplateVersion.lineup_id.in_(ids)
            )
            .options(
                joinedload(NameplateVersion.by),
                joinedload(NameplateVersion.confirmation),
            )
            .order_by(NameplateVersion.number)
        )
    )
