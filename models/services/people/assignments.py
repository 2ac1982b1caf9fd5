"""Who works on which site, from day to day; what has ended stays as history."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.schema import Person, Site, SiteAssignment
from models.services.keeping.log import append_log, take_turn
from models.services.people.access import has_role, may, person_of, require


def assign(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    now: datetime,
    from_day: date | None = None,
    until_day: date | None = None,
    by_id: UUID | None = None,
    new_id: Callable[[], UUID] = uuid4,
) -> UUID:
    """Let a person of a test firm see and work on a site; return the assignment.

    Days are the site's, the last one included; without *from_day* it begins on the
    day of *now*, without *until_day* it has no end. Where they are assigned in all
    of that time already, nothing is added. *by_id* None: whoever runs the server.
    Raises NotFoundError, InputError for days that cannot be and for whoever is not
    assigned: an owner's person, who sees their own sites and no other's, and one
    who neither tests nor leads. Whether *by_id* may assign is asked before:
    `assign_person`.
    """
    take_turn(session)
    site = session.get(Site, site_id)
    if site is None:
        raise NotFoundError("site", site_id)
    person = person_of(session, person_id)
    first = from_day or now.astimezone(ZoneInfo(site.zone)).date()
    if faults := _faults(person, site, first, until_day):
        raise InputError(*faults)
    if (held := _covering(person, site_id, first, until_day)) is not None:
        return held.id
    row = SiteAssignment(
        id=new_id(),
        person=person,
        site=site,
        from_day=first,
        until_day=until_day,
        made_at=now,
        made_by_id=by_id,
    )
    session.add(row)
    session.flush()
    _log(session, "assign", row, by_id, now, {"from": first, "until": until_day})
    return row.id


def assign_person(
    session: Session,
    *,
    by_id: UUID,
    person_id: UUID,
    site_id: UUID,
    from_day: date | None,
    until_day: date | None,
    now: datetime,
) -> UUID:
    """Assign as `assign` does, by an administrator; ForbiddenError otherwise."""
    require(person_of(session, by_id), "administer")
    return assign(
        session,
        person_id=person_id,
        site_id=site_id,
        from_day=from_day,
        until_day=until_day,
        by_id=by_id,
        now=now,
    )


def end_assignment(
    session: Session,
    *,
    by_id: UUID,
    assignment_id: UUID,
    until_day: date,
    now: datetime,
) -> None:
    """Set the last day of an assignment.

    Raises NotFoundError, InputError, and ConflictError for one that has ended.
    """
    take_turn(session)
    require(person_of(session, by_id), "administer")
    row = session.get(SiteAssignment, assignment_id)
    if row is None:
        raise NotFoundError("assignment", assignment_id)
    if until_day < row.from_day:
        message = f"It began on {row.from_day.isoformat()}: choose that day or later."
        raise InputError(Fault(field="until_day", message=message))
    today = now.astimezone(ZoneInfo(row.site.zone)).date()
    if row.until_day is not None and row.until_day < today:
        raise ConflictError(
            f"This assignment ended on {row.until_day.isoformat()}: add a new one."
        )
    change = {"until": {"old": row.until_day, "new": until_day}}
    row.until_day = until_day
    session.flush()
    _log(session, "end assignment", row, by_id, now, change)


def sites_to_assign(session: Session, *, by_id: UUID) -> list[tuple[UUID, str]]:
    """Return id and name of every site, with its owner where two share a name."""
    require(person_of(session, by_id), "administer")
    sites = session.scalars(select(Site).order_by(Site.name, Site.id)).all()
    names = [site.name for site in sites]
    return [
        (
            site.id,
            site.name
            if names.count(site.name) == 1
            else f"{site.name} ({site.owner.name})",
        )
        for site in sites
    ]


def _faults(person: Person, site: Site, first: date, until: date | None) -> list[Fault]:
    if has_role(person, "owner"):
        own = person.organisation_id == site.owner_id
        message = (
            f"{person.name} is of {person.organisation.name}, whose site this is: "
            "they see it without being assigned."
            if own
            else f"{person.name} is of {person.organisation.name}, and {site.name} is "
            f"{site.owner.name}'s: an owner's people never see another owner's site."
        )
        return [Fault(field="site", message=message)]
    if not may(person, "record"):
        message = (
            f"{person.name} neither tests nor leads: give them one of these roles "
            "first. An administrator sees the set-up of every site as it is."
        )
        return [Fault(field="site", message=message)]
    if until is not None and until < first:
        message = "The last day is before the first."
        return [Fault(field="until_day", message=message)]
    return []


def _covering(
    person: Person, site_id: UUID, first: date, until: date | None
) -> SiteAssignment | None:
    """Return an assignment there that holds on all of these days."""
    for row in person.assignments:
        ends_later = row.until_day is None or (
            until is not None and until <= row.until_day
        )
        if row.site_id == site_id and row.from_day <= first and ends_later:
            return row
    return None


def _log(
    session: Session,
    action: str,
    row: SiteAssignment,
    by_id: UUID | None,
    now: datetime,
    said: Mapping[str, object],
) -> None:
    append_log(
        session,
        actor_id=by_id,
        action=action,
        subject=f"person {row.person_id}",
        body={"assignment": row.id, "site": row.site_id, **said},
        now=now,
    )
