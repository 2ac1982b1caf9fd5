"""The other prints and statements of a table, and where they differ."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from models.criteria.sheet import Column, Row, Sheet
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

    sheet: Sheet
    relation: str
    same: int
    differences: Sequence[Difference] | None


def other_prints(sheet: Sheet, sheets: Mapping[str, Sheet]) -> list[OtherPrint]:
    """Return the older print, the newer ones, and other statements of the same."""
    found = [
        (other, "a newer print")
        for other in sheets.values()
        if other.supersedes == sheet.key
    ]
    older = sheets.get(sheet.supersedes or "")
    if older is not None:
        found.append((older, "an older print"))
    found += [(sheets[key], "another statement") for key in sheet.sibling]
    return [_beside(sheet, other, relation) for other, relation in found]


def _beside(sheet: Sheet, other: Sheet, relation: str) -> OtherPrint:
    theirs = {column.name: column for column in other.columns}
    shared = [
        column
        for column in sheet.columns
        if column.name in theirs
        and theirs[column.name].unit == column.unit
        and not sheet.identifies(column)
    ]
    there = {_name(other, row): row for row in other.rows}
    here = {_name(sheet, row): row for row in sheet.rows}
    if not shared or not here.keys() & there.keys() or not _of_one_kind(sheet, other):
        return OtherPrint(sheet=other, relation=relation, same=0, differences=None)
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
        sheet=other, relation=relation, same=same, differences=differences
    )


def _of_one_kind(sheet: Sheet, other: Sheet) -> bool:
    return (sheet.unit, sheet.reference_c) == (other.unit, other.reference_c)


def _name(sheet: Sheet, row: Row) -> RowName:
    """Return what makes a row the same row in two prints."""
    if sheet.order is None:
        return (row["row"],)
    return (row.get(sheet.group or ""), row[sheet.order])


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
