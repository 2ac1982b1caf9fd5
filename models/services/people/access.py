"""Who may see and do what: asked by every other service, first."""

from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, NotFoundError
from models.schema import (
    Apparatus,
    Card,
    Cell,
    Lineup,
    Person,
    Reading,
    Round,
    Site,
    SiteAssignment,
)

DOING = {
    "record": ("technician", "lead"),
    "lead": ("lead",),
    "accept": ("owner",),
    "choose editions": ("lead", "owner"),
    "judge again": ("lead", "owner"),
    "check tables": ("lead", "owner"),
    "set up": ("lead",),
    "confirm nameplate": ("technician", "lead", "owner"),
}


def person_of(session: Session, person_id: UUID) -> Person:
    """Return the active person; NotFoundError otherwise."""
    person = session.get(Person, person_id)
    if person is None or not person.active:
        raise NotFoundError("person", person_id)
    session.info["asking"] = person  # held: the next service asks no query for it
    return person


def require(person: Person, doing: str) -> None:
    """Raise ForbiddenError unless the person's role allows *doing*."""
    if person.role not in DOING[doing]:
        raise ForbiddenError(
            f"This is for the {' or the '.join(DOING[doing])}; "
            f"you are signed in as {person.role}."
        )


def visible_sites(person: Person) -> Select[UUID]:
    """Select the ids of the sites that *person* may see.

    An owner's people see their own sites, a test firm's people those they are
    assigned to.
    """
    if person.role == "owner":
        return select(Site.id).where(Site.owner_id == person.organisation_id)
    return select(SiteAssignment.site_id).where(SiteAssignment.person_id == person.id)


def visible_rounds(person: Person) -> Select[Round]:
    """Select the rounds that *person* may see.

    A round is the owner's to see once it is turned over: before that its
    readings are nobody's word yet.
    """
    rounds = select(Round).join(Lineup).where(Lineup.site_id.in_(visible_sites(person)))
    return rounds.where(Round.state != "open") if person.role == "owner" else rounds


def round_of(session: Session, person: Person, round_id: UUID) -> Round:
    """Return the round if the person may see it; NotFoundError otherwise."""
    found = session.scalars(visible_rounds(person).where(Round.id == round_id)).first()
    if found is None:
        raise NotFoundError("round", round_id)
    return found


def card_of(session: Session, person: Person, card_id: UUID) -> Card:
    """Return the card if the person may see its site; NotFoundError otherwise."""
    card = session.get(Card, card_id)
    if card is None:
        raise NotFoundError("card", card_id)
    round_of(session, person, card.round_id)
    return card


def reading_of(session: Session, person: Person, reading_id: UUID) -> Reading:
    """Return the reading if the person may see its site; NotFoundError otherwise."""
    reading = session.get(Reading, reading_id)
    if reading is None:
        raise NotFoundError("reading", reading_id)
    card_of(session, person, reading.card_id)
    return reading


def site_of(session: Session, person: Person, site_id: UUID) -> Site:
    """Return the site if the person may see it; NotFoundError otherwise."""
    found = session.scalars(
        select(Site).where(Site.id == site_id, Site.id.in_(visible_sites(person)))
    ).first()
    if found is None:
        raise NotFoundError("site", site_id)
    return found


def lineup_of(session: Session, person: Person, lineup_id: UUID) -> Lineup:
    """Return the lineup if the person may see its site; NotFoundError otherwise."""
    found = session.scalars(
        select(Lineup).where(
            Lineup.id == lineup_id, Lineup.site_id.in_(visible_sites(person))
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
