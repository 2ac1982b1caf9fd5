"""The correction of a gas pressure: which gas, its equation, its saturation."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.tables import Criteria
from models.procedures.subject import Subject

EQUATIONS, SATURATION = "gas_equations", {"sf6": "sf6_saturation"}
NUMBERS = ("r", "a0", "a", "b0", "b", "from_c", "to_c", "densest")
REFERENCE_C = 20.0
NOT_SAID = (
    "The nameplate does not say which gas is in the tank: its pressure cannot be "
    "carried to 20 °C."
)
NOT_KNOWN = (
    "For this gas, or mixture, no equation is known here: carry the pressure to 20 °C "
    "by the maker's table."
)
Isochor = tuple[Mapping[str, Any], Sequence[Mapping[str, Any]], str | None]


def isochor_correction(
    said: Mapping[str, Any], subject: Subject, criteria: Criteria, cite: int
) -> Isochor:
    """Return the correction of a rule, its source, and why it cannot be; else None.

    The field `plate` of the nameplate names the gas, a row of the table of equations.
    *cite* is the source's place in the rule's list.
    """
    gas = subject.word(said["plate"])
    if gas is None:
        return {"by": "none"}, (), NOT_SAID
    table = criteria.table(EQUATIONS)
    row = table.find(lambda row: row["gas"] == gas)
    if row is None:
        return {"by": "none"}, (), NOT_KNOWN
    points = SATURATION.get(gas)
    rows = criteria.table(points).rows if points else ()
    correction = {
        "by": "isochor",
        "label": row["row"],
        **{name: row[name] for name in NUMBERS},
        "reference_c": REFERENCE_C,
        "cite": cite,
        **{key: said[key] for key in ("of", "thermometer") if key in said},
    }
    if rows:
        correction["saturation"] = [
            [one["temperature_c"], one["pressure_kpa"]] for one in rows
        ]
    return correction, (table.cite(row),), None
