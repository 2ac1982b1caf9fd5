"""What is judged again: a lineup, a site, or all of an owner's that one may see."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session, contains_eager, joinedload

from models.criteria.prints import prints_of
from models.errors import NotFoundError
from models.schema import Lineup, Organisation, Person, Round, Site
from models.services.criteria.editions import prints_in_use
from models.services.people.access import (
    lineup_of,
    person_of,
    site_of,
    visible_rounds,
    visible_sites,
)

SCOPES = ("lineup", "site", "owner")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What is judged again: its name for people, and the rounds that belong to it."""

    kind: str
    subject_id: UUID
    title: str
    rounds: Sequence[Round]

    @property
    def sites(self) -> list[Site]:
        """Return the sites whose rounds are judged again."""
        return list({r.lineup.site_id: r.lineup.site for r in self.rounds}.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Choosable:
    """A scope that this person may choose."""

    kind: str
    subject_id: UUID
    title: str


def scope_of(session: Session, person: Person, kind: str, subject_id: UUID) -> Scope:
    """Return the scope with those of its rounds that the person may see.

    Raises NotFoundError where there is nothing of that kind for this person.
    """
    if kind == "lineup":
        lineup = lineup_of(session, person, subject_id, "judge again")
        title, within = f"{lineup.site.name} · {lineup.name}", Lineup.id == lineup.id
    elif kind == "site":
        site = site_of(session, person, subject_id, "judge again")
        title, within = site.name, Lineup.site_id == site.id
    elif kind == "owner":
        owner = _owner_of(session, person, subject_id)
        title, within = owner.name, Site.owner_id == owner.id
    else:
        raise NotFoundError("scope", kind)
    return Scope(
        kind=kind,
        subject_id=subject_id,
        title=title,
        rounds=session.scalars(_rounds(person).where(within)).unique().all(),
    )


def choosable(session: Session, *, person_id: UUID) -> list[Choosable]:
    """Return the scopes that the person may choose, the widest first."""
    person = person_of(session, person_id)
    sites = session.scalars(
        select(Site)
        .where(Site.id.in_(visible_sites(person)))
        .options(joinedload(Site.owner), joinedload(Site.lineups))
        .order_by(Site.name, Site.id)
    ).unique()
    found: dict[tuple[str, UUID], str] = {}
    for site in sites:
        found.setdefault(("owner", site.owner_id), f"All of {site.owner.name}")
        found["site", site.id] = site.name
        for lineup in site.lineups:
            found["lineup", lineup.id] = f"{site.name} · {lineup.name}"
    return [
        Choosable(kind=kind, subject_id=key, title=title)
        for wanted in reversed(SCOPES)
        for (kind, key), title in found.items()
        if kind == wanted
    ]


def editions_said(session: Session, sites: Sequence[Site]) -> str:
    """Return in a line which prints are used at *sites* in place of the default."""
    said: dict[str, None] = {}
    for site in sites:
        for key, chosen in prints_in_use(session, site).items():
            found = next(p for p in prints_of(key) if p.key == chosen)
            said[f"{found.title}: {found.cited_as}"] = None
    return "; ".join(said) if said else "the default edition of every table"


def _owner_of(session: Session, person: Person, owner_id: UUID) -> Organisation:
    found = session.scalars(
        select(Organisation)
        .join(Site, Site.owner_id == Organisation.id)
        .where(Organisation.id == owner_id, Site.id.in_(visible_sites(person)))
    ).first()
    if found is None:
        raise NotFoundError("owner", owner_id)
    return found


def _rounds(person: Person) -> Select[Round]:
    """Select the rounds with lineup, site and who opened them."""
    return (
        visible_rounds(person)
        .join(Lineup.site)
        .options(
            contains_eager(Round.lineup).contains_eager(Lineup.site),
            joinedload(Round.opened_by),
        )
        .order_by(Site.name, Lineup.name, Round.opened_at, Round.id)
    )
