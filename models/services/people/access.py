"""Who may see and do what: asked by every other service, first."""

from collections.abc import Callable, Iterable
from datetime import datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session, object_session

from models.errors import ConflictError, ForbiddenError, NotFoundError
from models.schema import (
    Apparatus,
    Card,
    Cell,
    InspectionPoint,
    Lineup,
    LogEntry,
    Person,
    Reading,
    Round,
    Site,
    SiteAssignment,
)

ROLES = ("lead", "technician", "owner", "administrator")  # as they are listed

DOING = {
    "see record": ("technician", "lead", "owner"),
    "record": ("technician", "lead"),
    "lead": ("lead",),
    "accept": ("owner",),
    "choose editions": ("lead", "owner"),
    "judge again": ("lead", "owner"),
    "check tables": ("lead", "owner"),
    "attach to gear": ("technician", "lead", "owner", "administrator"),
    "attach to instruments": ("technician", "lead", "administrator"),
    "plan": ("lead",),
    "see instruments": ("technician", "lead", "administrator"),
    "set up": ("administrator", "lead"),
    "administer": ("administrator",),
    "confirm nameplate": ("technician", "lead", "owner", "administrator"),
}


def person_of(session: Session, person_id: UUID) -> Person:
    """Return the active person; NotFoundError otherwise."""
    person = session.get(Person, person_id)
    if person is None or not person.active:
        raise NotFoundError("person", person_id)
    session.info["asking"] = person  # held: the next service asks no query for it
    return person


def has_role(person: Person, role: str) -> bool:
    """Return whether the person holds this role now."""
    return role in person.roles


def may(person: Person, doing: str) -> bool:
    """Return whether one of the person's roles allows *doing*."""
    return not person.roles.isdisjoint(DOING[doing])


def require(person: Person, doing: str) -> None:
    """Raise ForbiddenError unless one of the person's roles allows *doing*."""
    if not may(person, doing):
        raise ForbiddenError(
            f"This is for the {' or the '.join(DOING[doing])}; "
            f"you are signed in as {role_words(person.roles)}."
        )


def acting_role(person: Person, doing: str, at: datetime | None = None) -> str:
    """Return the role under which the person does *doing*, or did it *at* a time.

    It is what is printed with an act. Who holds no role that allows it, as after a
    change of roles, is printed with the roles that they hold.
    """
    held = person.roles if at is None else person.roles_at(at)
    allowed = [role for role in DOING[doing] if role in held]
    return allowed[0] if allowed else role_words(held or person.roles)


def role_words(roles: Iterable[str]) -> str:
    """Return the roles as text: lead, technician."""
    return ", ".join(sorted(roles, key=ROLES.index))


def visible_sites(person: Person) -> Select[UUID]:
    """Select the ids of the sites whose record *person* may see.

    An owner's people see their own sites, a test firm's people those they are
    assigned to today. For who may set up a site, ask `sites_to_set_up`.
    """
    if has_role(person, "owner"):
        return select(Site.id).where(Site.owner_id == person.organisation_id)
    moment = _moment(person)
    held = [one.site_id for one in person.assignments if holds_at(one, moment)]
    return select(Site.id).where(Site.id.in_(held))


def works_on(person: Person, site_id: UUID) -> bool:
    """Return whether the person is assigned to the site today."""
    moment = _moment(person)
    return any(
        one.site_id == site_id and holds_at(one, moment) for one in person.assignments
    )


def holds_at(assignment: SiteAssignment, moment: datetime) -> bool:
    """Return whether the assignment holds on the site's day of that moment."""
    day = moment.astimezone(ZoneInfo(assignment.site.zone)).date()
    until = assignment.until_day
    return assignment.from_day <= day and (until is None or day <= until)


def _moment(person: Person) -> datetime:
    """Return the time that days are counted by: the session's clock.

    A session of the web application has one (`Session.info["clock"]`); without one
    it is the latest time in the log.
    """
    session = object_session(person)
    if session is None:
        return person.created_at
    clock: Callable[[], datetime] | None = session.info.get("clock")
    if clock is not None:
        return clock()
    newest: datetime | None = session.scalar(select(func.max(LogEntry.at)))
    return newest or person.created_at


def visible_rounds(person: Person) -> Select[Round]:
    """Select the rounds that *person* may see.

    A round is the owner's to see once it is turned over: before that its
    readings are nobody's word yet.
    """
    rounds = select(Round).join(Lineup).where(Lineup.site_id.in_(visible_sites(person)))
    owner = has_role(person, "owner")
    return rounds.where(Round.state != "open") if owner else rounds


def round_of(session: Session, person: Person, round_id: UUID) -> Round:
    """Return the round if the person may see it; NotFoundError otherwise."""
    found = session.scalars(visible_rounds(person).where(Round.id == round_id)).first()
    if found is None:
        raise NotFoundError("round", round_id)
    return found


def card_of(session: Session, person: Person, card_id: UUID) -> Card:
    """Return the card if the person may see it; NotFoundError otherwise.

    They see the site's record, or are who one of the card's hold, witness or review
    points waits for: then this card of the open round is theirs to see.
    """
    card = session.get(Card, card_id)
    if card is None:
        raise NotFoundError("card", card_id)
    if not waits_for(session, person, card):
        round_of(session, person, card.round_id)
    return card


def waits_for(session: Session, person: Person, card: Card) -> bool:
    """Return whether a hold, witness or review point of the card names the person."""
    named = select(InspectionPoint.id).where(
        InspectionPoint.card_id == card.id, InspectionPoint.person_id == person.id
    )
    return sees_site(session, person, card.round.lineup.site_id) and (
        session.scalars(named).first() is not None
    )


def sees_site(session: Session, person: Person, site_id: UUID) -> bool:
    """Return whether the site's record is the person's to see."""
    return site_id in set(session.scalars(visible_sites(person)))


def reading_of(session: Session, person: Person, reading_id: UUID) -> Reading:
    """Return the reading if the person may see its site; NotFoundError otherwise."""
    reading = session.get(Reading, reading_id)
    if reading is None:
        raise NotFoundError("reading", reading_id)
    card_of(session, person, reading.card_id)
    return reading


def sites_to_set_up(person: Person) -> Select[UUID]:
    """Select the ids of the sites whose set-up *person* may see.

    All of them for an administrator; for others those whose record they see.
    """
    if has_role(person, "administrator"):
        return select(Site.id)
    return visible_sites(person)


def _sites_for(person: Person, doing: str | None) -> Select[UUID]:
    """Select the sites on which *doing* is the person's; None: to see the set-up.

    To a lead who is an administrator too, a site they do not work on is one to set
    up, not one to decide on.
    """
    if doing is None or "administrator" in DOING[doing]:
        return sites_to_set_up(person)
    return visible_sites(person)


def site_of(
    session: Session, person: Person, site_id: UUID, doing: str | None = None
) -> Site:
    """Return the site if the person may see its set-up, or do *doing* there.

    NotFoundError otherwise.
    """
    found = session.scalars(
        select(Site).where(Site.id == site_id, Site.id.in_(_sites_for(person, doing)))
    ).first()
    if found is None:
        raise NotFoundError("site", site_id)
    return found


def lineup_of(
    session: Session, person: Person, lineup_id: UUID, doing: str | None = None
) -> Lineup:
    """Return the lineup if `site_of` would give its site; NotFoundError otherwise."""
    found = session.scalars(
        select(Lineup).where(
            Lineup.id == lineup_id, Lineup.site_id.in_(_sites_for(person, doing))
        )
    ).first()
    if found is None:
        raise NotFoundError("lineup", lineup_id)
    return found


def require_open(round_: Round) -> None:
    """Raise ConflictError when the round is turned over."""
    if round_.state != "open":
        raise ConflictError(
            f"{round_.title} is {round_.state}: nothing more can be entered. "
            "A later finding belongs to a new round."
        )


def lineup_apparatus(session: Session, lineup_id: UUID) -> list[Apparatus]:
    """Return the lineup's apparatus, cell by cell."""
    return list(
        session.scalars(
            select(Apparatus)
            .join(Cell)
            .where(Cell.lineup_id == lineup_id)
            .order_by(Cell.position, Apparatus.position)
        )
    )
