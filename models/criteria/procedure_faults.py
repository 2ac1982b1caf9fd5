"""What a declared procedure looks for that the tables and preconditions do not have."""

from collections.abc import Collection, Iterator, Mapping

from models.criteria.preconditions import Precondition
from models.criteria.sheet import SUBJECTS, Sheet
from models.fields import field
from models.judging.quantities import UNITS
from models.procedures.declaration import Declaration
from models.procedures.lookup_faults import tables_wanted
from models.procedures.lookups import Lookup
from models.procedures.metal import TABLE as METALS


def procedure_faults(
    declared: Mapping[str, Declaration],
    sheets: Mapping[str, Sheet],
    preconditions: Collection[Precondition],
) -> Iterator[str]:
    """Yield what is not there, each with the file and the key that want it."""
    codes = [one.code for one in preconditions]
    for name, one in declared.items():
        file = f"{name}.toml"
        for code in one.data["preconditions"]:
            if code not in codes:
                yield f"{file}: preconditions: there is no '{code}'"
        for apparatus in one.data["on"]["apparatus"]:
            if apparatus not in SUBJECTS:
                known = ", ".join(SUBJECTS)
                yield f"{file}: on, apparatus: '{apparatus}' is none of {known}"
        if "correction" in one.data:
            for metal in _metals_missing(one.data["correction"]["plate"], sheets):
                yield f"{file}: correction: the table '{METALS}' has no metal '{metal}'"
        for place, lookup in tables_wanted(one.data):
            for fault in _table_faults(lookup, sheets):
                yield f"{file}: {place}: {fault}"


def _metals_missing(plate: str, sheets: Mapping[str, Sheet]) -> Iterator[str]:
    """Yield each choice of the field *plate* for which the table has no constant."""
    known = {row["metal"] for row in sheets[METALS].rows}
    yield from (choice for choice in field(plate).choices if choice not in known)


def _table_faults(lookup: Lookup, sheets: Mapping[str, Sheet]) -> Iterator[str]:
    key = lookup["table"]
    if key not in sheets:
        yield f"there is no table '{key}'"
        return
    sheet = sheets[key]
    columns = {column.name: column.unit for column in sheet.columns}
    wanted = [lookup.get("column", ""), *lookup.get("match", ())]
    for column in (*wanted, *lookup.get("at_or_above", ())):
        if column not in columns:
            known = ", ".join(columns)
            yield f"the table '{key}' has no column '{column}', but {known}"
    rows = [row["row"] for row in sheet.rows]
    if "row" in lookup and lookup["row"] not in rows:
        yield f"the table '{key}' has no row '{lookup['row']}'"
    unit = columns.get(lookup.get("column", ""), "")
    if unit in UNITS and "as" not in lookup and lookup.get("unit") != unit:
        yield f"the column '{lookup['column']}' is in '{unit}': write unit = '{unit}'"
