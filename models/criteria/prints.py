"""Prints of one table: which of them may stand in another's place."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from models.criteria.loader import table_files
from models.criteria.table_file import TEXT, TableFile
from models.errors import CriteriaError, NotFoundError
from models.judging import Criteria

# The tables that rules are compiled from, where more than one print exists.
IN_RULES = (
    "insulation_minimum",
    "insulation_correction_20",
    "contact_test_current",
    "metals",
    "bolt_torque_connectors",
    "field_enclosed",
    "field_metal_clad",
    "withstand_field_fraction",
    "relay_curves",
    "relay_tolerance",
    "polarization_bands",
    "cable_dc",
    "control_voltage",
    "sf6_leakage",
    "sf6_purity",
)
STANDARDS = ("ANSI", "IEEE", "IEC")


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """One print of a table.

    *refused* says in words why it is not offered in the place of the default
    print; empty where it is.
    """

    key: str
    title: str
    cited_as: str
    default: bool
    refused: str


def prints_of(key: str) -> list[Print]:
    """Return the prints that state what table *key* states, the default one first.

    Raises NotFoundError where there is no default print of that key.
    """
    found = table_files().get(key)
    if found is None or not found.default:
        raise NotFoundError("criteria table", key)
    others = [table_files()[other] for other in _others(found)]
    return [_print(found, ""), *(_print(o, refusal(found, o)) for o in others)]


def choices() -> dict[str, list[Print]]:
    """Return the prints of each table in IN_RULES, by its key."""
    return {key: prints_of(key) for key in IN_RULES}


def with_prints(criteria: Criteria, chosen: Mapping[str, str]) -> Criteria:
    """Return *criteria* with each table of *chosen* answered by another print.

    A choice that was made before its print was refused as another standard's
    holds until it is ended. Raises CriteriaError for a print that rules cannot be
    compiled from in that place.
    """
    for key, other in chosen.items():
        found = {p.key for p in prints_of(key)}
        if other not in found or unfit(table_files()[key], table_files()[other]):
            raise CriteriaError(f"the table '{other}' cannot stand for '{key}'")
    swapped = {key: criteria.table(other) for key, other in chosen.items()}
    return Criteria({**criteria.tables, **swapped})


def refusal(default: TableFile, other: TableFile) -> str:
    """Return why *other* is not offered in the place of *default*; empty: it is.

    What another standard asks is a choice of standard, not of an edition.
    """
    if faults := unfit(default, other):
        return faults
    asked, other_asked = _standards(default), _standards(other)
    if asked and other_asked and asked.isdisjoint(other_asked):
        return (
            f"It is what another standard asks ({other.document}), "
            "not another print of this table."
        )
    return ""


def _standards(table_file: TableFile) -> set[str]:
    """Return whose standards its document is; empty for the trade's own papers."""
    return {name for name in STANDARDS if name in table_file.document}


def unfit(default: TableFile, other: TableFile) -> str:
    """Return why rules cannot be compiled from *other* for *default*; empty: they can.

    It must state the same quantity in the same unit at the same reference
    temperature, and have every column that rules are compiled from.
    """
    has = {column.name: (column.kind, column.unit) for column in other.columns}
    lacking = [
        column.label
        for column in default.columns
        if has.get(column.name) != (column.kind, column.unit)
    ]
    if lacking:
        return f"It does not state: {', '.join(lacking).lower()}."
    if other.quantity != default.quantity:
        return f"It states another quantity: {other.quantity}."
    if other.unit != default.unit:
        return "It is in another unit."
    if other.reference_c != default.reference_c:
        return (
            f"Its values belong to {other.reference_c:g} °C, "
            f"not to {default.reference_c:g} °C."
        )
    unnamed = _names(default) - _names(other)
    return f"It has no row for {', '.join(sorted(unnamed))}." if unnamed else ""


def _names(table_file: TableFile) -> set[str]:
    """Return what its rows are looked up by, where that is a word."""
    words = [column.name for column in table_file.columns if column.kind == TEXT]
    return {str(row[words[0]]) for row in table_file.rows} if words else set()


def _others(table_file: TableFile) -> Sequence[str]:
    """Return the keys of its other prints: siblings, then older ones back in time."""
    found = [key for key in table_file.sibling if not table_files()[key].default]
    older = table_file.supersedes
    while older is not None:
        found.append(older)
        older = table_files()[older].supersedes
    return list(dict.fromkeys(found))


def _print(table_file: TableFile, refused: str) -> Print:
    edition = f" ({table_file.edition})" if table_file.edition else ""
    table = f", {table_file.table}" if table_file.table else ""
    return Print(
        key=table_file.key,
        title=table_file.title,
        cited_as=f"{table_file.document}{edition}{table}",
        default=table_file.default,
        refused=refused,
    )
