"""The tablets of a lead's sites, with the rounds that they hold."""

from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from sqlalchemy import Select, or_, select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.schema import Person, Round, Tablet, TabletAct, TabletRound
from models.services.people.access import person_of, require, visible_rounds
from models.services.tablets.revoked import revocation
from models.services.tablets.said import unsent_words
from models.services.tablets.waited_for import is_waited_for, unsent

MOST = 100  # tablets on the page; those that called last


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldRound:
    """A round on a tablet, as the page shows it."""

    round_id: UUID
    where: str
    title: str
    zone: str
    state: str  # of the round
    by: str
    taken_at: datetime
    given_back_at: datetime | None
    unsent: str  # in words, as last told
    left: int
    oldest_at: datetime | None
    told_at: datetime
    waits: bool
    released: TabletAct | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedTablet:
    """A tablet, with what was decided about it last."""

    id: UUID
    label: str
    program: str
    last_at: datetime
    last_by: str
    revoked: TabletAct | None
    rounds: list[HeldRound] = field(default_factory=list)

    @property
    def waits(self) -> bool:
        """Whether a round waits for it."""
        return any(one.waits for one in self.rounds)


def tablets_seen_by(person: Person) -> Select[UUID]:
    """Select the tablets of the person's firm, and those that hold rounds they see."""
    rounds = visible_rounds(person).with_only_columns(Round.id)
    holds = select(TabletRound.tablet_id).where(TabletRound.round_id.in_(rounds))
    firm = select(Person.id).where(Person.organisation_id == person.organisation_id)
    return select(Tablet.id).where(
        or_(Tablet.last_by_id.in_(firm), Tablet.id.in_(holds))
    )


def listed_tablets(session: Session, *, person_id: UUID) -> list[ListedTablet]:
    """Return the tablets, those that a round waits for first, then as they called."""
    person = person_of(session, person_id)
    require(person, "lead")
    rows = session.scalars(
        select(Tablet)
        .where(Tablet.id.in_(tablets_seen_by(person)))
        .order_by(Tablet.last_at.desc(), Tablet.id)
        .limit(MOST)
        .options(joinedload(Tablet.last_by), selectinload(Tablet.acts))
    ).all()
    rounds = visible_rounds(person).with_only_columns(Round.id)
    held = session.scalars(
        select(TabletRound)
        .where(
            TabletRound.tablet_id.in_([one.id for one in rows]),
            TabletRound.round_id.in_(rounds),
        )
        .order_by(TabletRound.taken_at.desc())
        .options(joinedload(TabletRound.round), joinedload(TabletRound.person))
    ).all()
    found = [_listed(one, [h for h in held if h.tablet_id == one.id]) for one in rows]
    return sorted(found, key=lambda one: not one.waits)


def _listed(row: Tablet, held: list[TabletRound]) -> ListedTablet:
    releases = [act for act in row.acts if act.act == "release"]
    return ListedTablet(
        id=row.id,
        label=row.label,
        program=row.program,
        last_at=row.last_at,
        last_by=row.last_by.name,
        revoked=revocation(row.acts),
        rounds=[_held(one, releases) for one in held],
    )


def _held(held: TabletRound, releases: list[TabletAct]) -> HeldRound:
    round_ = held.round
    lineup = round_.lineup
    of_round = [one for one in releases if one.round_id == round_.id]
    return HeldRound(
        round_id=round_.id,
        where=f"{lineup.site.name} · {lineup.name}",
        title=round_.title,
        zone=lineup.site.zone,
        state=round_.state,
        by=held.person.name,
        taken_at=held.taken_at,
        given_back_at=held.given_back_at,
        unsent=unsent_words(held),
        left=unsent(held),
        oldest_at=held.oldest_at,
        told_at=held.told_at,
        waits=round_.state == "open" and is_waited_for(held, of_round),
        released=of_round[-1] if of_round else None,
    )
