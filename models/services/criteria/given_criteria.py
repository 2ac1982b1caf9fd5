"""The criteria given for lineups, as pages show them: lists, versions, history."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.judging.quantities import said_unit
from models.procedures import GIVABLE
from models.procedures.given import STANDINGS
from models.schema import GivenCriterion, Lineup, Person, Site
from models.services.criteria.criterion_draft import criterion_versions
from models.services.criteria.criterion_effects import Effect, Use, effects, uses
from models.services.criteria.given_in_force import given_in_force, last_versions
from models.services.criteria.suggestions import Suggestion, suggestions
from models.services.people.access import (
    lineup_apparatus,
    lineup_of,
    may,
    person_of,
    visible_sites,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One version of a criterion in words."""

    id: UUID
    criterion_id: UUID
    version: int
    title: str
    scope: str
    standing: str
    standing_words: str
    figure: str
    text: str
    unit: str
    document: str
    edition: str
    clause: str
    reason: str
    withdrawn: bool
    by: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """The lineup that criteria are given for, and whether this person may do so."""

    lineup_id: UUID
    lineup: str
    site: str
    zone: str
    may_give: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupCriteria:
    """What is given for a lineup, what is withdrawn, and what it may be given for.

    *scopes* are (value, words): `lineup`, `kind:<kind>` or `apparatus:<id>`.
    """

    place: Place
    in_force: Sequence[Version]
    withdrawn: Sequence[Version]
    suggestions: Sequence[Suggestion]  # that may be adopted
    scopes: Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class CriterionRecord:
    """A criterion with every version, the newest first, and the rounds it is in."""

    place: Place
    last: Version
    versions: Sequence[Version]
    uses: Sequence[Use]


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """A version that is not stored yet, and what it would do."""

    version: Version
    effects: Sequence[Effect]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupCount:
    """A lineup with how many criteria hold on it."""

    lineup_id: UUID
    lineup: str
    site: str
    in_force: int


def lineups_with_criteria(session: Session, *, person_id: UUID) -> list[LineupCount]:
    """Return every lineup that the person may see, site by site."""
    person = person_of(session, person_id)
    lineups = session.scalars(
        select(Lineup)
        .join(Site)
        .where(Lineup.site_id.in_(visible_sites(person)))
        .options(joinedload(Lineup.site))
        .order_by(Site.name, Lineup.name)
    )
    return [
        LineupCount(
            lineup_id=lineup.id,
            lineup=lineup.name,
            site=lineup.site.name,
            in_force=len(given_in_force(session, lineup.id)),
        )
        for lineup in lineups
    ]


def lineup_criteria(
    session: Session, *, person_id: UUID, lineup_id: UUID
) -> LineupCriteria:
    """Return what is given for a lineup; NotFoundError where it is not seen."""
    person = person_of(session, person_id)
    lineup = lineup_of(session, person, lineup_id, "see record")
    rows = last_versions(session, lineup.id)
    return LineupCriteria(
        place=_place(lineup, person),
        in_force=[version_of(row) for row in rows if not row.withdrawn],
        withdrawn=[version_of(row) for row in rows if row.withdrawn],
        suggestions=suggestions(session, lineup),
        scopes=_scopes(session, lineup),
    )


def criterion_record(
    session: Session, *, person_id: UUID, criterion_id: UUID
) -> CriterionRecord:
    """Return a criterion with its history; NotFoundError where it is not seen."""
    person = person_of(session, person_id)
    rows = criterion_versions(session, person, criterion_id)
    versions = [version_of(row) for row in reversed(rows)]
    return CriterionRecord(
        place=_place(rows[-1].lineup, person),
        last=versions[0],
        versions=versions,
        uses=uses(session, person, rows[-1]),
    )


def preview(session: Session, draft: GivenCriterion) -> Preview:
    """Return what a draft says and would do."""
    return Preview(version=version_of(draft), effects=effects(session, draft))


def version_of(row: GivenCriterion) -> Version:
    """Return a version in words."""
    return Version(
        id=row.id,
        criterion_id=row.criterion_id,
        version=row.version,
        title=GIVABLE[row.quantity].title,
        scope=_scope_words(row),
        standing=row.standing,
        standing_words=STANDINGS[row.standing],
        figure=f"{row.text} {said_unit(row.unit)}",
        text=row.text,
        unit=row.unit,
        document=row.document,
        edition=row.edition,
        clause=row.clause,
        reason=row.reason,
        withdrawn=row.withdrawn,
        by=row.by.name,
        at=row.at,
    )


def _place(lineup: Lineup, person: Person) -> Place:
    return Place(
        lineup_id=lineup.id,
        lineup=lineup.name,
        site=lineup.site.name,
        zone=lineup.site.zone,
        may_give=may(person, "lead"),
    )


def _scopes(session: Session, lineup: Lineup) -> list[tuple[str, str]]:
    found = lineup_apparatus(session, lineup.id)
    kinds = sorted({one.kind for one in found})
    return [
        ("lineup", f"the whole lineup {lineup.name}"),
        *((f"kind:{kind}", _kind_words(kind)) for kind in kinds),
        *((f"apparatus:{one.id}", f"{one.label}, {one.where}") for one in found),
    ]


def _scope_words(row: GivenCriterion) -> str:
    if row.apparatus is not None:
        return f"{row.apparatus.label}, {row.apparatus.where}"
    return _kind_words(row.apparatus_kind) if row.apparatus_kind else "whole lineup"


def _kind_words(kind: str) -> str:
    return f"every {kind.replace('_', ' ')}"
