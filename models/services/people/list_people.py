"""The people of an installation: those first who need something."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.schema import Invitation, Organisation, Person
from models.services.people.access import holds_at, may, person_of, require, role_words
from models.services.people.invitations import state_of
from models.services.turnover.pages import ROWS, Page, has_words, start_of

STATES = {"invited": "invited", "active": "active", "deactivated": "deactivated"}
SOON = timedelta(hours=24)  # before its end a link is said to lapse

# What needs attention, in this order; the last ones need nothing.
LAPSED = "The link has lapsed before they enrolled: make a new one."
NO_LINK = "They have not enrolled, and there is no link: make one."
LAPSES = "The link lapses within a day."
NO_SITE = "Works on no site today: assign one."
WAITS = "Has been invited and has not enrolled yet."
RESET = "A link to set the password anew is open."
ORDER = (LAPSED, NO_LINK, LAPSES, NO_SITE, WAITS, RESET, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonRow:
    """A person in the list; *needs* says what is to be done, '' for nothing."""

    id: UUID
    name: str
    sign_in: str
    organisation: str
    role_words: str
    state: str
    sites: list[str]  # that they work on today
    needs: str


def list_people(
    session: Session,
    *,
    by_id: UUID,
    now: datetime,
    words: str = "",
    state: str = "",
    role: str = "",
    site_id: UUID | None = None,
    page: int = 1,
) -> Page[PersonRow]:
    """Return a page of the people; ForbiddenError for whoever is no administrator.

    *words*: each stands in the name, the sign-in name or the organisation. *role*:
    who holds it; *site_id*: who works there today.
    """
    require(person_of(session, by_id), "administer")
    found = session.scalars(
        select(Person)
        .join(Organisation)
        .where(has_words(words, _stands))
        .options(
            joinedload(Person.organisation),
            selectinload(Person.held_roles),
            selectinload(Person.assignments),
        )
        .order_by(Person.name, Person.id)
    ).all()
    links = newest_links(session)
    wanted = _wanted(now, state, role, site_id)
    rows = [_row(one, links.get(one.id), now) for one in found if wanted(one)]
    rows.sort(key=lambda row: (row.state == "deactivated", ORDER.index(row.needs)))
    first = start_of(page)
    return Page(rows=rows[first : first + ROWS], total=len(rows), number=max(1, page))


def person_state(person: Person) -> str:
    """Return invited, active or deactivated."""
    if not person.active:
        return "deactivated"
    return "active" if person.enrolled else "invited"


def newest_links(session: Session) -> dict[UUID, Invitation]:
    """Return the newest invitation of each person who was given one."""
    rows = session.scalars(select(Invitation).order_by(Invitation.made_at))
    return {row.person_id: row for row in rows}


def person_needs(person: Person, link: Invitation | None, now: datetime) -> str:
    """Return what is to be done about a person, '' for nothing."""
    if not person.active:
        return ""
    state = state_of(link, now) if link is not None else ""
    if not person.enrolled:
        return _waits(link, state, now)
    sites = [one for one in person.assignments if holds_at(one, now)]
    if may(person, "record") and not sites:
        return NO_SITE
    return RESET if state == "open" else ""


def _waits(link: Invitation | None, state: str, now: datetime) -> str:
    if link is None or state == "withdrawn":
        return NO_LINK
    if state == "expired":
        return LAPSED
    return LAPSES if link.ends_at - now < SOON else WAITS


def _wanted(
    now: datetime, state: str, role: str, site_id: UUID | None
) -> Callable[[Person], bool]:
    def wanted(person: Person) -> bool:
        return (
            (state not in STATES or person_state(person) == state)
            and (not role or role in person.roles)
            and (
                site_id is None
                or any(
                    one.site_id == site_id and holds_at(one, now)
                    for one in person.assignments
                )
            )
        )

    return wanted


def _row(person: Person, link: Invitation | None, now: datetime) -> PersonRow:
    held = [one.site.name for one in person.assignments if holds_at(one, now)]
    return PersonRow(
        id=person.id,
        name=person.name,
        sign_in=person.sign_in,
        organisation=person.organisation.name,
        role_words=role_words(person.roles),
        state=person_state(person),
        sites=sorted(set(held)),
        needs=person_needs(person, link, now),
    )


def _stands(word: str) -> ColumnElement[bool]:
    return or_(
        Person.name.icontains(word, autoescape=True),
        Person.sign_in.icontains(word, autoescape=True),
        Organisation.name.icontains(word, autoescape=True),
    )
