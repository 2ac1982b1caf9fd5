"""Which given criteria hold on a lineup today, and what a rule takes from them."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from models.procedures import GIVABLE
from models.procedures.given import Given, given_value
from models.schema import Apparatus, GivenCriterion

AT_ONCE = 500  # lineups in one statement


def last_versions(session: Session, lineup_id: UUID) -> list[GivenCriterion]:
    """Return the last version of each criterion of a lineup, withdrawn ones too."""
    return list(session.scalars(_last().where(GivenCriterion.lineup_id == lineup_id)))


def _last() -> Select[GivenCriterion]:
    later = select(GivenCriterion.supersedes_id).where(
        GivenCriterion.supersedes_id.is_not(None)
    )
    return (
        select(GivenCriterion)
        .where(GivenCriterion.id.not_in(later))
        .order_by(GivenCriterion.at, GivenCriterion.id)
    )


def given_in_force(session: Session, lineup_id: UUID) -> list[GivenCriterion]:
    """Return the criteria that hold on a lineup."""
    return [row for row in last_versions(session, lineup_id) if not row.withdrawn]


def given_by_lineup(
    session: Session, lineup_ids: Iterable[UUID]
) -> dict[UUID, list[GivenCriterion]]:
    """Return the criteria that hold on each of many lineups, by its id."""
    found: dict[UUID, list[GivenCriterion]] = {key: [] for key in lineup_ids}
    wanted = list(found)
    for at in range(0, len(wanted), AT_ONCE):
        part = GivenCriterion.lineup_id.in_(wanted[at : at + AT_ONCE])
        for row in session.scalars(_last().where(part)):
            if not row.withdrawn:
                found[row.lineup_id].append(row)
    return found


def covers(row: GivenCriterion, apparatus: Apparatus) -> bool:
    """Return whether a criterion is given for *apparatus*, a thing of its lineup."""
    if row.apparatus_id is not None:
        return row.apparatus_id == apparatus.id
    return row.apparatus_kind in (None, apparatus.kind)


def given_for(
    rows: Iterable[GivenCriterion], apparatus: Apparatus, procedure: str
) -> Sequence[Given]:
    """Return what *rows* give for one procedure on one apparatus."""
    return tuple(
        as_given(row)
        for row in rows
        if covers(row, apparatus) and GIVABLE[row.quantity].procedure == procedure
    )


def as_given(row: GivenCriterion) -> Given:
    """Return a criterion as the judging core takes it."""
    return Given(
        quantity=row.quantity,
        value=given_value(GIVABLE[row.quantity], row.text, row.unit),
        standing=row.standing,
        scope=_scope(row),
        document=row.document,
        edition=row.edition,
        clause=row.clause,
        criterion=str(row.criterion_id),
        version=row.version,
    )


def _scope(row: GivenCriterion) -> str:
    if row.apparatus_id is not None:
        return "apparatus"
    return "kind" if row.apparatus_kind is not None else "lineup"
