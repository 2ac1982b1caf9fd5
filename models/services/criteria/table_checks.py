"""Which rows of the published tables organisations checked, and what holds of it."""

from collections.abc import Collection, Iterable, Mapping
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.criteria.checked import Checks, RowCheck, holds
from models.criteria.loader import table_files
from models.errors import NotFoundError
from models.judging import parse_number
from models.schema import Organisation, TableCheck

WITHDRAWN = "withdrawn"


def newest_checks(
    session: Session, organisation_id: UUID, keys: Collection[str] = ()
) -> list[TableCheck]:
    """Return the last check of each row by an organisation, withdrawn ones too.

    *keys* name the tables; none: all of them.
    """
    later = select(TableCheck.supersedes_id).where(
        TableCheck.supersedes_id.is_not(None)
    )
    wanted = select(TableCheck).where(
        TableCheck.organisation_id == organisation_id, TableCheck.id.not_in(later)
    )
    if keys:
        wanted = wanted.where(TableCheck.table_key.in_(keys))
    both = (selectinload(TableCheck.by), selectinload(TableCheck.organisation))
    return list(session.scalars(wanted.options(*both)))


def checks_of(session: Session, organisation_id: UUID) -> Checks:
    """Return what an organisation found, row by row, as the criteria take it.

    A check of figures that this program no longer ships is left out, so that it
    does not stand in the way of somebody else's.
    """
    found: dict[str, dict[str, RowCheck]] = {}
    for row in newest_checks(session, organisation_id):
        if row.act != WITHDRAWN and still_holds(row):
            found.setdefault(row.table_key, {})[row.row_name] = row_check(row)
    return found


def checks_of_named(session: Session, organisation: str) -> Checks:
    """Return `checks_of` the organisation of that name; NotFoundError for none."""
    found = session.scalars(
        select(Organisation.id).where(Organisation.name == organisation)
    ).first()
    if found is None:
        raise NotFoundError("organisation", organisation)
    return checks_of(session, found)


def checks_for(session: Session, organisations: Iterable[UUID]) -> Checks:
    """Return what holds where several checked: of each row the first one's word."""
    found: dict[str, Mapping[str, RowCheck]] = {}
    for organisation_id in organisations:
        for key, rows in checks_of(session, organisation_id).items():
            found[key] = {**rows, **found.get(key, {})}
    return found


def still_holds(row: TableCheck) -> bool:
    """Return whether the program ships today what was checked then."""
    table_file = table_files().get(row.table_key)
    if table_file is None:
        return False
    shipped = [one for one in table_file.rows if one["row"] == row.row_name]
    return bool(shipped) and holds(table_file, shipped[0], row_check(row))


def row_check(row: TableCheck) -> RowCheck:
    """Return a stored check as the criteria take it."""
    return RowCheck(
        digest=row.row_digest,
        figures={name: parse_number(typed) for name, typed in row.figures.items()},
        edition=row.edition,
        clause=row.clause,
        reason=row.reason,
        by=row.by.name,
        organisation=row.organisation.name,
        on=row.at.date(),
    )
