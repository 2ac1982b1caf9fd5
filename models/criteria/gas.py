"""The equation of state of SF6, as the tables have its coefficients."""

from typing import Any

from models.judging import Criteria
from models.judging.gas import GasEquation

# The coefficient of the equation -> the row that is used for it. The true gas
# constant serves for densities too; those in print read low.
ROWS = {
    "r": "R, true gas constant over molar mass",
    "a0": "A0",
    "a": "a",
    "b0": "B0",
    "b": "b",
}


def sf6_equation(criteria: Criteria) -> GasEquation:
    """Return the equation with the coefficients of `sf6_equation`."""
    rows = {row["row"]: row["value"] for row in criteria.table("sf6_equation").rows}
    saturation = [
        (row["temperature_c"], row["pressure_kpa"])
        for row in criteria.table("sf6_saturation").rows
    ]
    return GasEquation(
        **{name: rows[row] for name, row in ROWS.items()}, saturation=saturation
    )


def sf6_cites(criteria: Criteria) -> list[dict[str, Any]]:
    """Return where the coefficients come from, as a rule cites."""
    table = criteria.table("sf6_equation")
    return [table.cite(row) for row in table.rows if row["row"] in ROWS.values()]
