"""The published tables as one organisation has checked them, for its people."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models import criteria
from models.criteria import library
from models.criteria.checked import (
    Checks,
    checkable,
    checked_criteria,
    checked_table_file,
    correctable,
    corrected_words,
    row_digest,
)
from models.criteria.loader import table_files
from models.criteria.table_file import Column, Row, TableFile
from models.criteria.views import TableView, figures_of, view
from models.judging import Criteria
from models.schema import Person, TableCheck
from models.services.criteria.check_table import table_file_named
from models.services.criteria.table_checks import (
    WITHDRAWN,
    checks_of,
    newest_checks,
    row_check,
    still_holds,
)
from models.services.people.access import may, person_of, require


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckView:
    """One check as pages show it; *words* say each corrected figure.

    *holds* is false where it was superseded or withdrawn, or where the program
    ships another figure by now.
    """

    row: str
    act: str
    words: Sequence[str]
    edition: str
    clause: str
    reason: str
    by: str
    at: datetime
    holds: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RowState:
    """One row as it is shipped, and what was found of it.

    *stale* is a check of a figure that the program no longer ships. *before* is the
    id of the last check, a withdrawal too; blank where nobody checked it.
    """

    number: int
    name: str
    digest: str
    recalled: int
    figures: Sequence[tuple[Column, str]]  # each that can be corrected, with its words
    check: CheckView | None
    stale: CheckView | None
    before: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TableState:
    """One table and how far an organisation is with checking it.

    *rows* are those that a licensed copy can say anything of; *table* has the
    figures as they were found; *history* is the newest first.
    """

    table: TableView
    organisation: str
    may_check: bool
    rows: Sequence[RowState]
    history: Sequence[CheckView]

    @property
    def checked(self) -> int:
        """How many rows have a check that holds."""
        return sum(row.check is not None for row in self.rows)

    @property
    def stale(self) -> Sequence[RowState]:
        """The rows whose check is of another figure than the program ships."""
        return [row for row in self.rows if row.stale is not None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Recalled:
    """A table of which figures are from memory as shipped, and how many still are."""

    table: TableView
    shipped: int
    left: int


def organisation_criteria(session: Session, *, person_id: UUID) -> Criteria:
    """Return the published tables as the person's organisation checked them."""
    person = person_of(session, person_id)
    return checked_criteria(criteria.load(), checks_of(session, person.organisation_id))


def checked_tables(session: Session, *, person_id: UUID) -> Mapping[str, TableView]:
    """Return every table by key as the person's organisation checked it."""
    person = person_of(session, person_id)
    checks = checks_of(session, person.organisation_id)
    return {one.key: _as_checked(one, checks) for one in library.tables()}


def recalled_tables(session: Session, *, person_id: UUID) -> list[Recalled]:
    """Return the tables with figures from memory, those with most left first."""
    found = [
        Recalled(
            table=as_checked,
            shipped=library.table(key).counts.get("memory", 0),
            left=as_checked.counts.get("memory", 0),
        )
        for key, as_checked in checked_tables(session, person_id=person_id).items()
        if "memory" in library.table(key).counts
    ]
    return sorted(found, key=lambda one: (-one.left, one.table.title.casefold()))


def table_state(session: Session, *, person_id: UUID, key: str) -> TableState:
    """Return one table for its page; NotFoundError where there is none of that key."""
    person = person_of(session, person_id)
    table_file = table_file_named(key)
    checks = checks_of(session, person.organisation_id)
    last = {
        check.row_name: check
        for check in newest_checks(session, person.organisation_id, [key])
    }
    newest = {name: one for name, one in last.items() if one.act != WITHDRAWN}
    return TableState(
        table=_as_checked(library.table(key), checks),
        organisation=person.organisation.name,
        may_check=may(person, "check tables"),
        rows=_row_states(table_file, last),
        history=[
            _check_view(table_file, one, holds=newest.get(one.row_name) is one)
            for one in _history(session, person, key)
        ],
    )


def table_to_check(session: Session, *, person_id: UUID, key: str) -> TableState:
    """Return one table to be checked; ForbiddenError for who may not."""
    require(person_of(session, person_id), "check tables")
    return table_state(session, person_id=person_id, key=key)


def _as_checked(shipped: TableView, checks: Checks) -> TableView:
    if shipped.key not in checks:
        return shipped
    table_file = checked_table_file(table_files()[shipped.key], checks)
    return view(table_file, shipped.superseded_by)


def _history(session: Session, person: Person, key: str) -> list[TableCheck]:
    return list(
        session.scalars(
            select(TableCheck)
            .where(
                TableCheck.organisation_id == person.organisation_id,
                TableCheck.table_key == key,
            )
            .order_by(TableCheck.at.desc(), TableCheck.id)
            .options(joinedload(TableCheck.by), joinedload(TableCheck.organisation))
        )
    )


def _row_states(
    table_file: TableFile, newest: Mapping[str, TableCheck]
) -> list[RowState]:
    shipped = library.table(table_file.key)
    found = []
    for number, row in enumerate(table_file.rows):
        if not checkable(table_file, row):
            continue
        last = newest.get(row["row"])
        standing = last if last and last.act != WITHDRAWN else None
        seen = standing and _check_view(table_file, standing, holds=True)
        figures = figures_of(shipped.rows[number], shipped.columns)
        found.append(
            RowState(
                number=number,
                name=row["row"],
                digest=row_digest(table_file, row),
                recalled=sum(figure.provenance == "memory" for figure in figures),
                figures=_figures(shipped, table_file, number),
                check=seen if seen and seen.holds else None,
                stale=seen if seen and not seen.holds else None,
                before=str(last.id) if last else "",
            )
        )
    return found


def _figures(
    shipped: TableView, table_file: TableFile, number: int
) -> list[tuple[Column, str]]:
    wanted = {
        column.name: column
        for column in correctable(table_file, table_file.rows[number])
    }
    cells = zip(shipped.columns, shipped.rows[number].cells, strict=True)
    return [
        (wanted[head.name], f"{cell.text} {cell.unit}".strip())
        for head, cell in cells
        if cell is not None and head.name in wanted
    ]


def _check_view(table_file: TableFile, check: TableCheck, *, holds: bool) -> CheckView:
    rows: Sequence[Row] = [r for r in table_file.rows if r["row"] == check.row_name]
    words: Sequence[str] = [f"{name} {typed}" for name, typed in check.figures.items()]
    if rows and still_holds(check):
        read = row_check(check)
        said = corrected_words(table_file, rows[0], read.figures, read.reason)
        words = list(said.values())
    return CheckView(
        row=check.row_name,
        act=check.act,
        words=words,
        edition=check.edition,
        clause=check.clause,
        reason=check.reason,
        by=check.by.name,
        at=check.at,
        holds=holds and check.act != WITHDRAWN and still_holds(check),
    )
