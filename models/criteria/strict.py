"""What a criteria file must be: every fault is found, and said with its place."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from models.criteria.table_file import (
    KINDS,
    NUMBER,
    OF_A_ROW,
    OF_A_VALUE,
    SUBJECTS,
    TEXT,
    Row,
    TableFile,
)
from models.criteria.units import MIXED, SAID, suffix_unit
from models.judging.rules import PROVENANCES

# Head of a file: field -> the type of what stands there.
HEAD: Mapping[str, type] = {
    "key": str,
    "title": str,
    "document": str,
    "edition": str,
    "table": str,
    "quantity": str,
    "unit": str,
    "note": str,
    "default": bool,
    "applies_to": list,
    "column": dict,
    "row": list,
}
MAY_STAND: Mapping[str, type] = {
    "reference_c": float,
    "order": str,
    "group": str,
    "supersedes": str,
    "sibling": list,
}
MAY_BE_EMPTY = ("edition", "table")
# A missing name, source or provenance is said once, as missing.
MAY_BE_EMPTY_IN_A_ROW = ("note", "row", "source")
OF_A_COLUMN = ("label", "unit", "kind")

# An organisation confirms or corrects; a file cannot say of itself that it did.
OF_A_FILE = tuple(w for w in PROVENANCES if w not in ("confirmed", "corrected"))

Data = Mapping[str, Any]


def head_faults(name: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with the head of the file *name*."""
    for field, kind in HEAD.items():
        if field not in data:
            yield f"{name}: '{field}' is missing"
        elif not isinstance(data[field], kind):
            yield f"{name}: '{field}' is no {kind.__name__}"
        elif data[field] in ("", [], {}) and field not in MAY_BE_EMPTY:
            yield f"{name}: '{field}' is empty"
    for field, value in data.items():
        if field not in HEAD and field not in MAY_STAND:
            yield f"{name}: '{field}' is not known"
        elif field in MAY_STAND and not isinstance(value, MAY_STAND[field]):
            yield f"{name}: '{field}' is no {MAY_STAND[field].__name__}"
    for number, row in enumerate(data.get("row") or (), start=1):
        if not isinstance(row, dict):
            yield f"{name}, row {number}: is no table"


def column_faults(name: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with units, columns, and the names that must be columns."""
    if data["unit"] not in SAID and data["unit"] != MIXED:
        yield f"{name}: unit '{data['unit']}' is not known"
    for subject in data["applies_to"]:
        if subject not in SUBJECTS:
            yield f"{name}: applies_to '{subject}' is not known"
    for field in ("order", "group"):
        if field in data and data[field] not in data["column"]:
            yield f"{name}: {field} '{data[field]}' is no column"
    for column, head in data["column"].items():
        yield from _one_column(f"{name}: column '{column}'", column, head, data)


def _one_column(place: str, column: str, head: Data, data: Data) -> Iterator[str]:
    for field in head:
        if field not in OF_A_COLUMN:
            yield f"{place}: '{field}' is not known"
    kind = head.get("kind", NUMBER)
    if column in OF_A_ROW:
        yield f"{place}: the name is that of a row's own field"
    if kind not in KINDS:
        yield f"{place}: kind '{kind}' is not known"
    if not head.get("label"):
        yield f"{place}: 'label' is missing"
    unit = head.get("unit", "")
    if kind == NUMBER and unit not in SAID and unit != MIXED:
        yield f"{place}: unit '{unit}' is not known"
    wanted = suffix_unit(column) if kind == NUMBER else None
    if wanted and wanted != unit:
        yield f"{place}: the name says {wanted}, the unit {unit}"
    if not any(column in row for row in data["row"]):
        yield f"{place}: no row has it"


def row_faults(name: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with each row."""
    columns = data["column"]
    mixed = MIXED in [head.get("unit") for head in columns.values()]
    for number, row in enumerate(data["row"], start=1):
        place = f"{name}, row {number}"
        yield from _row_head(place, row, mixed=mixed)
        for field, value in row.items():
            yield from _field(place, field, value, columns)
    names = [row.get("row") for row in data["row"]]
    for twice in {n for n in names if n and names.count(n) > 1}:
        yield f"{name}: two rows are named '{twice}'"


def _row_head(place: str, row: Row, *, mixed: bool) -> Iterator[str]:
    for field in ("row", "provenance", "source"):
        if not row.get(field):
            yield f"{place}: '{field}' is missing"
    if mixed and row.get("unit") not in SAID:
        yield f"{place}: unit '{row.get('unit', '')}' is not known"
    if not mixed and "unit" in row:
        yield f"{place}: 'unit' stands in the head of the table"


def _field(place: str, field: str, value: Any, columns: Data) -> Iterator[str]:
    if field in columns:
        if not _fits(value, columns[field].get("kind", NUMBER)):
            yield f"{place}: '{field}' cannot be {value!r}"
        return
    column, _, what = field.rpartition("_")
    if field not in OF_A_ROW and not (column in columns and what in OF_A_VALUE):
        yield f"{place}: '{field}' is not known"
    elif not isinstance(value, str):
        yield f"{place}: '{field}' is no text"
    elif what == "provenance" or field == "provenance":
        if value and value not in OF_A_FILE:
            yield f"{place}: {field} '{value}' is none of {OF_A_FILE}"
    elif field not in MAY_BE_EMPTY_IN_A_ROW and not value:
        yield f"{place}: '{field}' is empty"


def _fits(value: Any, kind: str) -> bool:
    if kind == TEXT:
        return isinstance(value, str) and bool(value)
    if kind == NUMBER:
        number = isinstance(value, int | float) and not isinstance(value, bool)
        return number and math.isfinite(value)
    return isinstance(value, bool)


def order_faults(name: str, data: Data) -> Iterator[str]:
    """Yield a fault where rows do not ascend, or a group is torn apart."""
    order, group = data.get("order"), data.get("group")
    if order is None:
        return
    for number, row in enumerate(data["row"], start=1):
        if order not in row or (group and group not in row):
            yield f"{name}, row {number}: '{order}' orders the rows and is missing"
            return
    seen: list[Any] = []
    for before, after in pairwise(data["row"]):
        same = not group or before[group] == after[group]
        if same and after[order] <= before[order]:
            yield f"{name}: rows do not ascend by {order}: '{after['row']}'"
        if not same:
            seen.append(before[group])
            if after[group] in seen:
                yield f"{name}: rows of {group} '{after[group]}' stand apart"


def family_faults(table_files: Mapping[str, TableFile]) -> Iterator[str]:
    """Yield what does not fit between files: prints and statements of one thing."""
    for table_file in table_files.values():
        place = f"{table_file.key}.toml"
        named = [
            *table_file.sibling,
            *([table_file.supersedes] if table_file.supersedes else []),
        ]
        for key in named:
            if key not in table_files or key == table_file.key:
                yield f"{place}: '{key}' is no other table"
        for key in table_file.sibling:
            if key in table_files and table_file.key not in table_files[key].sibling:
                yield f"{place}: '{key}' does not name it as a sibling"
        older = table_files.get(table_file.supersedes or "")
        if older is not None and older.default:
            yield f"{place}: '{older.key}' is superseded and yet a default"
        yield from _one_default(table_file, table_files)


def _one_default(
    table_file: TableFile, table_files: Mapping[str, TableFile]
) -> Iterator[str]:
    family: Sequence[str] = [table_file.key, *table_file.sibling]
    chosen = [key for key in family if key in table_files and table_files[key].default]
    if table_file.sibling and len(chosen) != 1:
        yield f"{table_file.key}.toml: {len(chosen)} defaults among {sorted(family)}"
