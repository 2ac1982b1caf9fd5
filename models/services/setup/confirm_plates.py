"""A second person compares nameplates with the metal plates, and confirms them."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session, joinedload

from models.errors import ConflictError, ForbiddenError, NotFoundError
from models.procedures import PROCEDURES
from models.procedures.plates import apparatus_kinds
from models.schema import (
    Apparatus,
    Card,
    Lineup,
    NameplateConfirmation,
    NameplateVersion,
    Person,
)
from models.services.keeping.log import append_log, take_turn
from models.services.people.access import (
    lineup_of,
    person_of,
    require,
    sites_to_set_up,
)
from models.services.setup.nameplate import (
    lineup_nameplate,
    lineup_plate,
    nameplate_lines,
)
from models.services.setup.plate_versions import versions_of
from models.services.setup.stored_draft import stored_cells


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateShown:
    """A nameplate as it stands, to be compared with the metal one.

    *cell* is empty for the lineup's own plate. *confirmed_by* is empty while nobody
    else confirmed it; *own*: who asks entered it, so that another has to.
    """

    version_id: UUID
    subject_id: UUID
    title: str
    kind: str
    cell: str
    lines: Sequence[tuple[str, str]]
    number: int
    reason: str
    entered_by: str
    entered_at: datetime | None
    confirmed_by: str
    confirmed_at: datetime | None
    own: bool


def plates_of(
    session: Session, *, person_id: UUID, lineup_id: UUID
) -> list[PlateShown]:
    """Return the lineup's nameplates that say anything: its own first, then by cell."""
    person = person_of(session, person_id)
    lineup = lineup_of(session, person, lineup_id)
    cells = stored_cells(session, lineup.id)
    things = [(cell, one) for cell in cells for one in cell.apparatus]
    versions = versions_of(session, [lineup, *(one for _, one in things)])
    plates = [
        _shown(person, versions[one.id], one, f"Cell {cell.number} · {cell.name}")
        for cell, one in things
        if one.plate
    ]
    return [_shown(person, versions[lineup.id], lineup, ""), *plates]


def _shown(
    person: Person, version: NameplateVersion, subject: Lineup | Apparatus, cell: str
) -> PlateShown:
    confirmed = version.confirmation
    if isinstance(subject, Lineup):
        title, kind, lines = subject.name, "lineup", lineup_nameplate(subject)
    else:
        title, lines = subject.label, nameplate_lines(subject.plate)
        known = apparatus_kinds().get(subject.kind)
        kind = known.label if known else subject.kind.replace("_", " ")
    return PlateShown(
        version_id=version.id,
        subject_id=subject.id,
        title=title,
        kind=kind,
        cell=cell,
        lines=lines,
        number=version.number,
        reason=version.reason,
        entered_by=version.by.name if version.by else "",
        entered_at=version.at,
        confirmed_by=confirmed.by.name if confirmed else "",
        confirmed_at=confirmed.at if confirmed else None,
        own=version.by_id == person.id,
    )


def confirm_plates(
    session: Session,
    *,
    person_id: UUID,
    version_ids: Iterable[UUID],
    now: datetime,
    new_id: Callable[[], UUID],
) -> int:
    """Confirm these versions, and return how many were not confirmed before.

    Raises ForbiddenError for one that the person entered, ConflictError for one that
    was changed since: nothing is confirmed then.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "confirm nameplate")
    wanted = [_version(session, person, one) for one in dict.fromkeys(version_ids)]
    still = [one for one in wanted if one.confirmation is None]
    for version in still:
        _check(session, person, version)
    for version in still:
        session.add(
            NameplateConfirmation(
                id=new_id(), version_id=version.id, by_id=person.id, at=now
            )
        )
        subject = version.apparatus or version.lineup
        append_log(
            session,
            actor_id=person.id,
            action="confirm nameplate",
            subject=f"nameplate_version {version.id}",
            body={
                "of": str(subject.id if subject else ""),
                "number": version.number,
                "plate": version.plate,
            },
            now=now,
        )
    return len(still)


def _version(session: Session, person: Person, version_id: UUID) -> NameplateVersion:
    found = session.get(
        NameplateVersion,
        version_id,
        options=[joinedload(NameplateVersion.confirmation)],
        populate_existing=True,
    )
    subject = None if found is None else found.apparatus or found.lineup
    seen = set(session.scalars(sites_to_set_up(person)))
    if found is None or subject is None or subject.site_id not in seen:
        raise NotFoundError("nameplate", version_id)
    return found


def _check(session: Session, person: Person, version: NameplateVersion) -> None:
    subject = version.apparatus or version.lineup
    if subject is None:
        raise NotFoundError("nameplate", version.id)
    name = subject.label if isinstance(subject, Apparatus) else subject.name
    if version.by_id == person.id:
        raise ForbiddenError(
            f"You entered the nameplate of {name} yourself: somebody else compares it "
            "with the metal plate."
        )
    if versions_of(session, [subject])[subject.id].id != version.id:
        raise ConflictError(
            f"The nameplate of {name} was changed since you opened this page: "
            "look at it again."
        )


# What a round rests on


def unconfirmed(session: Session, cards: Sequence[Card]) -> list[NameplateVersion]:
    """Return the nameplates that limits of these *cards* rest on and nobody confirmed.

    A lineup's own plate counts where an apparatus does not say it itself.
    """
    if not cards:
        return []
    lineup = cards[0].round.lineup
    own = lineup_plate(lineup)
    needed: dict[UUID, Lineup | Apparatus] = {}
    for card in cards:
        rests_on = PROCEDURES[card.procedure].rests_on
        plate = card.apparatus.plate
        if _gives(plate, rests_on):
            needed[card.apparatus_id] = card.apparatus
        if _gives(own, [name for name in rests_on if name not in plate]):
            needed[lineup.id] = lineup
    versions = versions_of(session, needed.values())
    return [
        versions[key]
        for key in needed
        if key in versions and versions[key].confirmation is None
    ]


def _gives(plate: Mapping[str, Any], names: Iterable[str]) -> bool:
    return any(plate.get(name) not in (None, "", []) for name in names)
