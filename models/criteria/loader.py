"""Read the criteria tables, and refuse one that is not in order."""

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from itertools import chain
from types import MappingProxyType
from typing import Any

from models.criteria.preconditions import load_preconditions
from models.criteria.procedure_faults import procedure_faults
from models.criteria.safety.loader import books
from models.criteria.strict import (
    HEAD,
    MAY_STAND,
    column_faults,
    family_faults,
    head_faults,
    order_faults,
    row_faults,
)
from models.criteria.table_file import NUMBER, Column, TableFile
from models.errors import CriteriaError
from models.judging import Criteria
from models.procedures.registry import declarations

HEAD_ONLY = {*HEAD, *MAY_STAND} - {"column", "row"}


@cache
def load() -> Criteria:
    """Return every table under models/criteria/tables, as the judging core sees it.

    Raises CriteriaError like `table_files`, and for a declared procedure that looks
    for a table, a row, a column or a precondition that is not there; likewise for
    the lines of safety.
    """
    books()
    _refuse(procedure_faults(declarations(), table_files(), load_preconditions()))
    return Criteria(
        {key: table_file.as_table() for key, table_file in table_files().items()}
    )


@cache
def table_files() -> Mapping[str, TableFile]:
    """Return every table with its head, by key, in the order of the files' names.

    Raises CriteriaError naming file, row and field: an unknown field or unit, a
    missing source, an unknown provenance, rows out of order, a key used twice,
    a sibling that is not there.
    """
    found: dict[str, TableFile] = {}
    folder = files("models.criteria").joinpath("tables")
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if not file.name.endswith(".toml"):
            continue
        table_file = read_table_file(file.name, tomllib.loads(file.read_text("utf-8")))
        if table_file.key in found:
            raise CriteriaError(
                f"{file.name}: the key '{table_file.key}' is used twice"
            )
        found[table_file.key] = table_file
    _refuse(family_faults(found))
    return MappingProxyType(found)


def read_table_file(name: str, data: Mapping[str, Any]) -> TableFile:
    """Return the table in *data*; CriteriaError with every fault and its place."""
    _refuse(head_faults(name, data))
    _refuse(
        chain(
            column_faults(name, data),
            row_faults(name, data),
            order_faults(name, data),
        )
    )
    head = {field: value for field, value in data.items() if field in HEAD_ONLY}
    return TableFile(
        **{
            **head,
            "rows": tuple(data["row"]),
            "columns": tuple(_column(n, c) for n, c in data["column"].items()),
            "applies_to": tuple(data["applies_to"]),
            "sibling": tuple(data.get("sibling", ())),
        }
    )


def _column(name: str, head: Mapping[str, str]) -> Column:
    return Column(
        name=name,
        label=head["label"],
        unit=head.get("unit", ""),
        kind=head.get("kind", NUMBER),
    )


def _refuse(faults: Iterable[str]) -> None:
    found = list(faults)
    if found:
        raise CriteriaError("; ".join(found))
