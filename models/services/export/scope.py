"""What is exported: a site, a lineup or a round, with the rounds that go with it."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.schema import Lineup, Round, Site
from models.services.people.access import (
    lineup_of,
    person_of,
    require,
    round_of,
    site_of,
    visible_rounds,
)

KINDS = ("site", "lineup", "round")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What is exported; *rounds* in the order of their opening."""

    kind: str  # site, lineup or round
    name: str  # as people say it: site / lineup / round
    site_id: UUID
    lineup_ids: tuple[UUID, ...]
    round_ids: tuple[UUID, ...]


def scope_for(
    session: Session, *, person_id: UUID, kind: str, subject_id: UUID
) -> Scope:
    """Return what *person* may take with them of a thing.

    To an owner a round belongs once it is turned over. Raises NotFoundError and,
    for who sees no record, ForbiddenError.
    """
    person = person_of(session, person_id)
    require(person, "see record")
    seen = visible_rounds(person)
    if kind == "site":
        return _of_site(session, site_of(session, person, subject_id), seen)
    if kind == "lineup":
        return _of_lineup(session, lineup_of(session, person, subject_id), seen)
    if kind == "round":
        return _of_round(round_of(session, person, subject_id))
    raise NotFoundError("kind of export", kind)


def scope_named(session: Session, words: str) -> Scope:
    """Return what *words* name, for whoever runs the installation.

    They are an id, or names with slashes between: site, site/lineup or
    site/lineup/round. Raises NotFoundError, and InputError with the ids where
    several things are called so.
    """
    found = _by_id(session, words) or _by_name(session, words)
    if not found:
        raise NotFoundError("site, lineup or round", words)
    if len(found) > 1:
        listed = ", ".join(f"{one.__tablename__} {one.id}" for one in found)
        said = f"Several are called '{words}': say which by its id ({listed})."
        raise InputError(Fault(field="scope", message=said))
    (one,) = found
    if isinstance(one, Site):
        return _of_site(session, one, select(Round))
    if isinstance(one, Lineup):
        return _of_lineup(session, one, select(Round))
    return _of_round(one)


Thing = Site | Lineup | Round


def _by_id(session: Session, words: str) -> list[Thing]:
    try:
        key = UUID(words)
    except ValueError:
        return []
    found: list[Thing | None] = [
        session.get(Site, key),
        session.get(Lineup, key),
        session.get(Round, key),
    ]
    return [one for one in found if one]


def _by_name(session: Session, words: str) -> list[Thing]:
    """Return what is called so; a name may have slashes of its own."""
    found: list[Thing] = []
    for site in session.scalars(select(Site).order_by(Site.id)):
        if words == site.name:
            found.append(site)
        if not words.startswith(f"{site.name}/"):
            continue
        rest = words.removeprefix(f"{site.name}/")
        for lineup in site.lineups:
            if rest == lineup.name:
                found.append(lineup)
            rounds = select(Round).where(Round.lineup_id == lineup.id)
            found += [
                one
                for one in session.scalars(rounds.order_by(Round.id))
                if rest.casefold() == f"{lineup.name}/{one.title}".casefold()
            ]
    return found


def _of_site(session: Session, site: Site, seen: Select[Round]) -> Scope:
    lineups = sorted(lineup.id for lineup in site.lineups)
    return Scope(
        kind="site",
        name=site.name,
        site_id=site.id,
        lineup_ids=tuple(lineups),
        round_ids=_rounds(session, lineups, seen),
    )


def _of_lineup(session: Session, lineup: Lineup, seen: Select[Round]) -> Scope:
    return Scope(
        kind="lineup",
        name=f"{lineup.site.name} / {lineup.name}",
        site_id=lineup.site_id,
        lineup_ids=(lineup.id,),
        round_ids=_rounds(session, [lineup.id], seen),
    )


def _of_round(found: Round) -> Scope:
    lineup = found.lineup
    return Scope(
        kind="round",
        name=f"{lineup.site.name} / {lineup.name} / {found.title}",
        site_id=lineup.site_id,
        lineup_ids=(lineup.id,),
        round_ids=(found.id,),
    )


def _rounds(
    session: Session, lineup_ids: list[UUID], seen: Select[Round]
) -> tuple[UUID, ...]:
    wanted = seen.where(Round.lineup_id.in_(lineup_ids)).with_only_columns(Round.id)
    return tuple(session.scalars(wanted.order_by(Round.opened_at, Round.id)))
