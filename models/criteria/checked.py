"""Tables as an organisation checked them, row by row, against its licensed copy."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from models.criteria.loader import table_files
from models.criteria.table_file import (
    NUMBER,
    OF_A_VALUE,
    Column,
    Row,
    TableFile,
    of_value,
)
from models.criteria.units import MIXED, SAID
from models.judging import Criteria
from models.judging.wording import plain

# What a document can bear out. Practice, a maker or a project is no page of it.
IN_A_DOCUMENT = ("published", "memory", "computed")


@dataclass(frozen=True, slots=True, kw_only=True)
class RowCheck:
    """What somebody found who compared a row with a licensed copy.

    *digest* is that of the row as it was shipped then, *figures* hold the copy's
    figure for each column in which it differs: none, and the row is confirmed.
    *edition* is that of the copy, *clause* its page or clause.
    """

    digest: str
    figures: Mapping[str, float]
    edition: str
    clause: str
    reason: str
    by: str
    organisation: str
    on: date


# key of a table -> name of a row -> its check
Checks = Mapping[str, Mapping[str, RowCheck]]


def row_digest(table_file: TableFile, row: Row) -> str:
    """Return the SHA-256 of what a row states, and in which table, in hex.

    Notes, sources and provenance are left out: they may be worded better without
    the figures having moved.
    """
    figures = {
        column.name: [repr(row[column.name]), _unit(column, row)]
        for column in table_file.columns
        if column.name in row
    }
    head = [
        table_file.key,
        table_file.document,
        table_file.edition,
        table_file.table,
        row["row"],
    ]
    text = json.dumps([*head, figures], sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def checkable(table_file: TableFile, row: Row) -> bool:
    """Return whether a licensed copy can say anything of *row*."""
    known = [of_value(row, column.name, "provenance") for column in table_file.columns]
    return not {row["provenance"], *known}.isdisjoint(IN_A_DOCUMENT)


def correctable(table_file: TableFile, row: Row) -> list[Column]:
    """Return the columns whose figure can be corrected.

    What names the row, and what the document leaves blank, is none of them.
    """
    return [
        column
        for column in table_file.columns
        if column.name in row
        and column.kind == NUMBER
        and not table_file.identifies(column)
    ]


def checked_criteria(criteria: Criteria, checks: Checks) -> Criteria:
    """Return *criteria* with every row that was checked as it was found to be."""
    tables = {
        name: replace(
            table,
            rows=checked_rows(table_files()[table.key], table.rows, checks[table.key]),
        )
        if table.key in checks and table.key in table_files()
        else table
        for name, table in criteria.tables.items()
    }
    return replace(criteria, tables=tables)


def checked_table_file(table_file: TableFile, checks: Checks) -> TableFile:
    """Return *table_file* with every row that was checked as it was found to be."""
    rows = checked_rows(table_file, table_file.rows, checks.get(table_file.key, {}))
    return replace(table_file, rows=rows)


def checked_rows(
    table_file: TableFile, rows: Sequence[Row], checks: Mapping[str, RowCheck]
) -> tuple[Row, ...]:
    """Return the rows, each as its check found it.

    A check holds only of the figures that it was made of: where the program now
    ships another, the row stays as it is shipped.
    """
    return tuple(
        _checked(table_file, row, check)
        if (check := checks.get(row["row"])) and holds(table_file, row, check)
        else row
        for row in rows
    )


def holds(table_file: TableFile, row: Row, check: RowCheck) -> bool:
    """Return whether *check* was made of the row as it is shipped today."""
    return check.digest == row_digest(table_file, row)


def compared_words(check: RowCheck) -> str:
    """Return with what the row was compared, by whom and when."""
    clause = f", {check.clause}" if check.clause else ""
    return (
        f"compared with edition {check.edition}{clause}, by {check.by} of "
        f"{check.organisation} on {check.on.isoformat()}"
    )


def corrected_words(
    table_file: TableFile, row: Row, figures: Mapping[str, float], reason: str
) -> dict[str, str]:
    """Return for each corrected column the copy's figure, the old one and why."""
    found = {}
    for column in correctable(table_file, row):
        if column.name in figures:
            unit = SAID.get(_unit(column, row), "")
            new, old = (
                f"{plain(float(value))} {unit}".strip()
                for value in (figures[column.name], row[column.name])
            )
            found[column.name] = (
                f"{column.label} {new} in the place of {old} ({reason})"
            )
    return found


def _unit(column: Column, row: Row) -> str:
    return str(row["unit"]) if column.unit == MIXED else column.unit


def _checked(table_file: TableFile, row: Row, check: RowCheck) -> Row:
    """Return the row with the copy's figures; its doubts were settled by looking."""
    own = {f"{c.name}_{what}" for c in table_file.columns for what in OF_A_VALUE}
    kept = {k: v for k, v in row.items() if k not in own and k != "doubtful"}
    how = {
        f"{c.name}_provenance": "corrected" if c.name in check.figures else "confirmed"
        for c in correctable(table_file, row)
    }
    compared = compared_words(check)
    corrected = corrected_words(table_file, row, check.figures, check.reason)
    return {
        **kept,
        **check.figures,
        **how,
        "provenance": "corrected" if check.figures else "confirmed",
        "source": "; ".join([compared, *corrected.values()]),
        "checked": {"compared": compared, "corrected": corrected},
    }
