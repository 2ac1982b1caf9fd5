"""The correction of a declared procedure, compiled from the tables."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.procedures.found import found, reasons, together
from models.procedures.isochor import isochor_correction
from models.procedures.lookups import Place, column_of
from models.procedures.metal import REFERENCE_C, metal_correction

Data = Mapping[str, Any]
Corrected = tuple[Mapping[str, Any], Sequence[Mapping[str, Any]], str | None]
NOT_KNOWN = "What the reading is corrected by is not known."


def correction(said: Data | None, at: Place, cite: int) -> Corrected:
    """Return the correction of a rule, its sources, and why it cannot be; else None.

    *cite* is the place of its first source in the rule's list.
    """
    if said is None:
        return {"by": "none"}, (), None
    if said["by"] == "metal":
        return _metal(said, at, cite)
    if said["by"] == "isochor":
        return isochor_correction(said, at.subject, at.criteria, cite)
    made = _factors if said["by"] == "factor" else _other
    return made(said, at, cite)


def _metal(said: Data, at: Place, cite: int) -> Corrected:
    made, source = metal_correction(
        at.subject,
        at.criteria,
        plate=said["plate"],
        otherwise=said["otherwise"],
        reference_c=said.get("reference_c", REFERENCE_C),
        cite=cite,
    )
    return made, (source,), None


def _factors(said: Data, at: Place, cite: int) -> Corrected:
    """Take the factors of one column of a table, by its temperatures."""
    table, column = at.criteria.table(said["table"]), column_of(said, at.subject)
    if column is None:
        return {"by": "none"}, (), NOT_KNOWN
    made = {
        "by": "factor",
        "reference_c": said["reference_c"],
        "label": said.get("label", column),
        "points": [
            [row["temperature_c"], row[column]] for row in table.rows if column in row
        ],
        "cite": cite,
        **({"join": said["join"]} if "join" in said else {}),
    }
    return made, (table.cite_column(column, note="correction factors"),), None


def _other(said: Data, at: Place, cite: int) -> Corrected:
    """Take every word as it stands, what is looked up as it is found."""
    parts = {key: found(value, at) for key, value in said.items() if key != "missing"}
    for whole in together(parts):
        made = {**whole.value, **({"cite": cite} if whole.cites else {})}
        return made, whole.cites, None
    why = [reason for value in said.values() for _, reason in reasons(value, at)]
    return {"by": "none"}, (), [*why, said.get("missing", NOT_KNOWN)][0]
