"""Read the criteria tables, and refuse one that is not in order."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Any

from models.errors import CriteriaError
from models.judging import Criteria, Table
from models.judging.rules import PROVENANCES

# Columns by which the rows of a table ascend.
ORDERED_BY = ("class_kv", "temperature_c", "rated_kv")


@cache
def load() -> Criteria:
    """Return every table under models/criteria/tables.

    Raises CriteriaError naming file and row: a missing source, an unknown
    provenance, rows out of order, a key used twice.
    """
    tables: dict[str, Table] = {}
    folder = files("models.criteria").joinpath("tables")
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if not file.name.endswith(".toml"):
            continue
        table = read_table(file.name, tomllib.loads(file.read_text("utf-8")))
        if table.key in tables:
            raise CriteriaError(f"{file.name}: the key '{table.key}' is used twice")
        tables[table.key] = table
    return Criteria(tables)


def read_table(name: str, data: Mapping[str, Any]) -> Table:
    """Return the table in *data*; CriteriaError with the place otherwise."""
    for field in ("key", "document", "edition", "table", "unit", "row"):
        if field not in data:
            raise CriteriaError(f"{name}: '{field}' is missing")
    for number, row in enumerate(data["row"], start=1):
        _check_row(f"{name}, row {number}", row)
    for column in ORDERED_BY:
        values = [row[column] for row in data["row"] if column in row]
        if any(b <= a for a, b in pairwise(values)):
            raise CriteriaError(f"{name}: rows do not ascend by {column}")
    return Table(
        key=data["key"],
        document=data["document"],
        edition=data["edition"],
        table=data["table"],
        unit=data["unit"],
        rows=tuple(data["row"]),
    )


def _check_row(place: str, row: Mapping[str, Any]) -> None:
    for field in ("row", "provenance", "source"):
        if not row.get(field):
            raise CriteriaError(f"{place}: '{field}' is missing")
    if row["provenance"] not in PROVENANCES:
        raise CriteriaError(
            f"{place}: provenance '{row['provenance']}' is none of {PROVENANCES}"
        )
