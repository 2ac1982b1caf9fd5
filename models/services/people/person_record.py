"""All that the installation keeps of one person, for whoever administers it."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import NotFoundError
from models.schema import (
    Card,
    Deficiency,
    Invitation,
    LogEntry,
    Organisation,
    Person,
    Round,
    Signature,
    Site,
    SiteAssignment,
)
from models.services.people.access import (
    ROLES,
    holds_at,
    person_of,
    require,
    role_words,
)
from models.services.people.change_person import change_words
from models.services.people.invitations import state_of
from models.services.people.list_people import (
    newest_links,
    person_needs,
    person_state,
)
from models.services.people.new_person import FIRM_OF_ROLE
from models.signing import seals

NEWEST = 20  # entries of the log that are shown


@dataclass(frozen=True, slots=True, kw_only=True)
class AssignmentLine:
    """An assignment; *state*: now, later or ended."""

    id: UUID
    site: str
    from_day: date
    until_day: date | None
    today: date  # at the site
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkLine:
    """A link that was made for a person."""

    id: UUID
    kind: str
    made_by: str
    made_at: datetime
    ends_at: datetime
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyLine:
    """A key of a person, by its certificate's fingerprint."""

    fingerprint: str
    since: datetime
    revoked_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """What was done to a person: by whom and when."""

    at: datetime
    by: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonRecord:
    """A person with everything that belongs to them."""

    id: UUID
    name: str
    sign_in: str
    organisation: str
    roles: list[str]
    role_words: str
    roles_to_choose: list[str]
    state: str
    needs: str
    version: int
    is_asking: bool
    assignable: bool
    assignments: list[AssignmentLine]
    links: list[LinkLine]
    keys: list[KeyLine]
    log: list[LogLine]
    holds_open: list[str]


def person_record(
    session: Session, *, by_id: UUID, person_id: UUID, now: datetime
) -> PersonRecord:
    """Return the person; ForbiddenError for no administrator, NotFoundError."""
    require(person_of(session, by_id), "administer")
    person = session.get(Person, person_id)
    if person is None:
        raise NotFoundError("person", person_id)
    kind = person.organisation.kind
    return PersonRecord(
        id=person.id,
        name=person.name,
        sign_in=person.sign_in,
        organisation=person.organisation.name,
        roles=sorted(person.roles, key=ROLES.index),
        role_words=role_words(person.roles),
        roles_to_choose=roles_of_kind(kind),
        state=person_state(person),
        needs=person_needs(person, newest_links(session).get(person.id), now),
        version=person.version,
        is_asking=person_id == by_id,
        assignable=kind == "test_firm",
        assignments=_assignments(person, now),
        links=_links(session, person, now),
        keys=[
            KeyLine(
                fingerprint=seals.fingerprint(key.certificate_pem),
                since=key.created_at,
                revoked_at=key.revoked_at,
            )
            for key in reversed(person.keys)
        ],
        log=_log(session, person),
        holds_open=holds_open(session, person),
    )


def organisations(session: Session, *, by_id: UUID) -> Sequence[tuple[UUID, str, str]]:
    """Return id, name and kind of every organisation, test firms first."""
    require(person_of(session, by_id), "administer")
    found = select(Organisation.id, Organisation.name, Organisation.kind).order_by(
        Organisation.kind.desc(), Organisation.name
    )
    return [(key, name, kind) for key, name, kind in session.execute(found)]


def roles_of_kind(kind: str) -> list[str]:
    """Return the roles that people of such an organisation may hold."""
    return [role for role in ROLES if FIRM_OF_ROLE[role] == kind]


def holds_open(session: Session, person: Person) -> list[str]:
    """Return what waits for this person in rounds that are open, in words."""
    signed = select(Signature.card_id).where(
        Signature.by_id == person.id, Signature.card_id.is_not(None)
    )
    cards = session.scalars(
        select(Card)
        .join(Round)
        .where(
            Round.state == "open",
            Card.assigned_to_id == person.id,
            Card.id.not_in(signed),
        )
        .order_by(Round.opened_at, Card.position)
    )
    found = session.scalars(
        select(Deficiency)
        .join(Round, Round.id == Deficiency.round_id)
        .where(
            Round.state == "open",
            Deficiency.by_id == person.id,
            ~Deficiency.closing.has(),
        )
        .order_by(Round.opened_at, Deficiency.number)
    )
    return [
        *(
            f"Card {card.apparatus.label}, {card.procedure.replace('_', ' ')}, is "
            f"assigned to them: {_place(card.round)}"
            for card in cards
        ),
        *(
            f"Deficiency D-{one.number:03d}, which they raised, is open: "
            f"{_place(one.card.round)}"
            for one in found
        ),
    ]


def _place(round_: Round) -> str:
    lineup = round_.lineup
    return f"{lineup.site.name} · {lineup.name} · {round_.title}"


def _assignments(person: Person, now: datetime) -> list[AssignmentLine]:
    rows = sorted(person.assignments, key=lambda one: one.from_day, reverse=True)
    return [_assignment(row, now) for row in rows]


def _assignment(row: SiteAssignment, now: datetime) -> AssignmentLine:
    today = now.astimezone(ZoneInfo(row.site.zone)).date()
    state = "later" if row.from_day > today else "ended"
    return AssignmentLine(
        id=row.id,
        site=row.site.name,
        from_day=row.from_day,
        until_day=row.until_day,
        today=today,
        state="now" if holds_at(row, now) else state,
    )


def _links(session: Session, person: Person, now: datetime) -> list[LinkLine]:
    rows = session.scalars(
        select(Invitation)
        .where(Invitation.person_id == person.id)
        .order_by(Invitation.made_at.desc())
    )
    return [
        LinkLine(
            id=row.id,
            kind=row.kind,
            made_by=row.made_by.name,
            made_at=row.made_at,
            ends_at=row.ends_at,
            state=state_of(row, now),
        )
        for row in rows
    ]


def _log(session: Session, person: Person) -> list[LogLine]:
    rows = session.execute(
        select(LogEntry, Person.name)
        .outerjoin(Person, Person.id == LogEntry.actor_id)
        .where(LogEntry.subject == f"person {person.id}")
        .order_by(LogEntry.seq.desc())
        .limit(NEWEST)
    )
    sites = {row.id: row.name for row in session.execute(select(Site.id, Site.name))}
    return [
        LogLine(
            at=entry.at,
            by=name or "whoever runs the server",
            what=change_words(entry.action, _with_names(entry.body, sites)),
        )
        for entry, name in rows
    ]


def _with_names(text: str, sites: dict[UUID, str]) -> dict[str, object]:
    """Return what an entry says, with the name of its site in place of its id."""
    body: dict[str, object] = json.loads(text)
    if "site" in body:
        body["site"] = sites.get(UUID(str(body["site"])), "a site")
    return body
