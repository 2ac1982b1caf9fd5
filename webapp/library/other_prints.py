"""The other prints and statements of a table, and where they differ."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from models.criteria.table_file import Column, Row, TableFile
from models.criteria.units import SAID
from webapp.library.figures import Value, value_words

RowName = tuple[object, ...]  # what makes a row the same row in two prints


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One place where two tables do not print the same."""

    row: str
    column: str
    here: str
    there: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherPrint:
    """Another table beside this one: how it stands to it, and what differs.

    *same* counts the values that are alike; *differences* None: the two do not
    print the same rows and columns at one reference, so nothing can be compared.
    """

    table_file: TableFile
    relation: str
    same: int
    differences: Sequence[Difference] | None


def other_prints(
    table_file: TableFile, table_files: Mapping[str, TableFile]
) -> list[OtherPrint]:
    """Return the older print, the newer ones, and other statements of the same."""
    found = [
        (other, "a newer print")
        for other in table_files.values()
        if other.supersedes == table_file.key
    ]
    older = table_files.get(table_file.supersedes or "")
    if older is not None:
        found.append((older, "an older print"))
    found += [(table_files[key], "another statement") for key in table_file.sibling]
    return [_beside(table_file, other, relation) for other, relation in found]


def _beside(table_file: TableFile, other: TableFile, relation: str) -> OtherPrint:
    theirs = {column.name: column for column in other.columns}
    shared = [
        column
        for column in table_file.columns
        if column.name in theirs
        and theirs[column.name].unit == column.unit
        and not table_file.identifies(column)
    ]
    there = {_name(other, row): row for row in other.rows}
    here = {_name(table_file, row): row for row in table_file.rows}
    if (
        not shared
        or not here.keys() & there.keys()
        or not _of_one_kind(table_file, other)
    ):
        return OtherPrint(table_file=other, relation=relation, same=0, differences=None)
    same, differences = 0, []
    for name in dict.fromkeys((*here, *there)):
        if name not in here or name not in there:
            differences.append(_missing(name, here, there))
            continue
        for column in shared:
            mine, its = here[name].get(column.name), there[name].get(column.name)
            if mine == its:
                same += mine is not None
            else:
                differences.append(_differs(here[name], column, mine, its))
    return OtherPrint(
        table_file=other, relation=relation, same=same, differences=differences
    )


def _of_one_kind(table_file: TableFile, other: TableFile) -> bool:
    return (table_file.unit, table_file.reference_c) == (other.unit, other.reference_c)


def _name(table_file: TableFile, row: Row) -> RowName:
    """Return what makes a row the same row in two prints."""
    if table_file.order is None:
        return (row["row"],)
    return (row.get(table_file.group or ""), row[table_file.order])


def _missing(
    name: RowName, here: Mapping[RowName, Row], there: Mapping[RowName, Row]
) -> Difference:
    row = here.get(name) or there[name]
    stands = name in here
    return Difference(
        row=row["row"],
        column="the row",
        here="stands" if stands else "is not there",
        there="is not there" if stands else "stands",
    )


def _differs(
    row: Row, column: Column, mine: Value | None, its: Value | None
) -> Difference:
    return Difference(
        row=row["row"],
        column=column.label,
        here=_said(mine, column),
        there=_said(its, column),
    )


def _said(value: Value | None, column: Column) -> str:
    if value is None:
        return "nothing"
    return f"{value_words(value)} {SAID.get(column.unit, '')}".strip()
