"""What a declared procedure looks for that the tables and preconditions do not have."""

from collections.abc import Collection, Iterator, Mapping

from models.criteria.preconditions import Precondition
from models.criteria.table_file import SUBJECTS, TableFile
from models.fields import field
from models.judging.quantities import UNITS
from models.procedures.declaration import Declaration
from models.procedures.lookup_faults import tables_wanted
from models.procedures.lookups import Lookup
from models.procedures.metal import TABLE as METALS


def procedure_faults(
    declared: Mapping[str, Declaration],
    table_files: Mapping[str, TableFile],
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
        if one.data.get("correction", {}).get("by") == "metal":
            for metal in _metals_missing(one.data["correction"]["plate"], table_files):
                yield f"{file}: correction: the table '{METALS}' has no metal '{metal}'"
        for place, lookup in tables_wanted(one.data):
            for fault in _table_faults(lookup, table_files):
                yield f"{file}: {place}: {fault}"


def _metals_missing(plate: str, table_files: Mapping[str, TableFile]) -> Iterator[str]:
    """Yield each choice of the field *plate* for which the table has no constant."""
    known = {row["metal"] for row in table_files[METALS].rows}
    yield from (choice for choice in field(plate).choices if choice not in known)


def _table_faults(
    lookup: Lookup, table_files: Mapping[str, TableFile]
) -> Iterator[str]:
    key = lookup["table"]
    if key not in table_files:
        yield f"there is no table '{key}'"
        return
    table_file = table_files[key]
    columns = {column.name: column.unit for column in table_file.columns}
    wanted = [*_named(lookup, "column"), *lookup.get("match", ())]
    wanted += [*lookup.get("at_or_above", ()), *lookup.get("each", {}).values()]
    for column in wanted:
        if column not in columns:
            known = ", ".join(columns)
            yield f"the table '{key}' has no column '{column}', but {known}"
    yield from _row_faults(lookup, table_file)
    if "by" in lookup:  # factors of a correction
        return
    for column in _named(lookup, "column"):
        unit = columns.get(column, "")
        if unit in UNITS and "as" not in lookup and lookup.get("unit") != unit:
            yield f"the column '{column}' is in '{unit}': write unit = '{unit}'"


def _row_faults(lookup: Lookup, table_file: TableFile) -> Iterator[str]:
    rows = {row["row"]: row for row in table_file.rows}
    for name in _named(lookup, "row"):
        if name not in rows:
            yield f"the table '{table_file.key}' has no row '{name}'"
        for column in _named(lookup, "column"):
            if name in rows and "row" in lookup and column not in rows[name]:
                yield f"the row '{name}' has nothing in '{column}'"


def _named(lookup: Lookup, what: str) -> list[str]:
    """Return the columns or rows that a look-up may take, as far as it names them."""
    if what in lookup:
        return [lookup[what]]
    by = lookup.get(f"{what}_by", ())
    if isinstance(by, str):
        about = field(by)  # a row is named as the choice is said
        return [
            one if what == "column" else about.choice_words(one)
            for one in about.choices
        ]
    return [by[word] for word in by if word != "field"]
