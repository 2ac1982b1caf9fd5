"""Stops of the work: where a press stops it, and what is in force."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, Select, select
from sqlalchemy.orm import Session, aliased, joinedload

from models.schema import Person, SafetyAct, Site
from models.services.people.access import person_of, sites_to_set_up
from models.services.safety.site_of import site_named
from models.services.turnover.pages import ROWS, Page, has_words, start_of

SIGNED_OUT = "somebody not signed in"


@dataclass(frozen=True, slots=True)
class StopSite:
    """A site on which work can be stopped."""

    id: UUID
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StopInForce:
    """A stop that nobody has released yet."""

    id: UUID
    site_id: UUID
    site_name: str
    zone: str
    by_id: UUID | None  # None: pressed signed out
    by: str
    device: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class WhereToStop:
    """What the head of a page shows; *several*: the site is to be chosen first."""

    site: StopSite | None
    several: bool
    in_force: list[StopInForce]


def where_to_stop(
    session: Session, *, person_id: UUID, named: Mapping[str, Any], last: UUID | None
) -> WhereToStop:
    """Return the site that a press stops, and the stops in force that they see.

    The site is that of what the page's address *named*, else *last*, which they
    worked on last, else their only one.
    """
    person = person_of(session, person_id)
    theirs = _sites(person)
    key = site_named(session, person, named) or last
    site = session.execute(theirs.where(Site.id == key)).first() if key else None
    several = False
    if site is None:
        first = session.execute(theirs.limit(2)).all()
        several = len(first) > 1
        site = first[0] if len(first) == 1 else None
    return WhereToStop(
        site=StopSite(*site) if site else None,
        several=several,
        in_force=_in_force(session, Site.id.in_(sites_to_set_up(person))),
    )


def sites_to_stop(
    session: Session, *, person_id: UUID, words: str = "", page: int = 1
) -> Page[StopSite]:
    """Return a page of the sites on which the person may stop work, by name."""
    theirs = _sites(person_of(session, person_id)).where(has_words(words, _named))
    found = session.execute(theirs).all()
    start = start_of(page)
    return Page(
        rows=[StopSite(*one) for one in found[start : start + ROWS]],
        total=len(found),
        number=max(1, page),
    )


def stop_site(session: Session, site_id: UUID) -> StopSite | None:
    """Return the site for somebody who is not signed in: its name, nothing else."""
    found = session.get(Site, site_id)
    return StopSite(found.id, found.name) if found else None


def stops_in_force(session: Session, site_ids: Iterable[UUID]) -> list[StopInForce]:
    """Return the stops of these sites that nobody released, the earliest first."""
    return _in_force(session, Site.id.in_(list(site_ids)))


def _sites(person: Person) -> Select[UUID, str]:
    theirs = Site.id.in_(sites_to_set_up(person))
    return select(Site.id, Site.name).where(theirs).order_by(Site.name, Site.id)


def _named(word: str) -> ColumnElement[bool]:
    return Site.name.icontains(word, autoescape=True)


def _in_force(session: Session, where: ColumnElement[bool]) -> list[StopInForce]:
    release = aliased(SafetyAct)
    released = select(release.id).where(
        release.site_id == SafetyAct.site_id,
        release.span == "stop",
        release.act == "release",
        release.of_id == SafetyAct.of_id,
    )
    rows = session.execute(
        select(SafetyAct, Site.name, Site.zone)
        .join(Site, Site.id == SafetyAct.site_id)
        .where(where, SafetyAct.span == "stop", SafetyAct.act == "stop")
        .where(~released.exists())
        .options(joinedload(SafetyAct.by))
        .order_by(SafetyAct.at, SafetyAct.id)
    )
    return [_stop(*row) for row in rows]


def _stop(act: SafetyAct, site_name: str, zone: str) -> StopInForce:
    return StopInForce(
        id=act.of_id,
        site_id=act.site_id,
        site_name=site_name,
        zone=zone,
        by_id=act.by_id,
        by=said_by(act),
        device=act.device,
        at=act.at,
    )


def said_by(act: SafetyAct) -> str:
    """Return who says it, in words."""
    return act.person_name or (act.by.name if act.by else SIGNED_OUT)
