"""Vacuum integrity: a withstand across the open gap, or the residual pressure."""

from typing import Any

from models.judging.kinds import withstand
from models.judging.procedures import Procedure, ask
from models.judging.quantities import convert
from models.judging.rules import Rule
from models.judging.subject import METHODS, Subject
from models.judging.tables import MAKER, Criteria

PROCEDURE = Procedure(
    name="vacuum_integrity",
    title="Vacuum integrity",
    method=(
        "With the breaker open at its normal gap and everybody at the instruction "
        "book's distance (X-rays are possible), apply the test voltage across each "
        "interrupter for one minute; or find the residual pressure by the magnetron "
        "method with the maker's curve for this interrupter."
    ),
    units=("Pa", "mbar", "Torr"),
    default_unit="Pa",
    asks=(
        ask("method", "Method", choices=METHODS),
        ask("test_kv", "Voltage reached", "kV", required=False),
        ask("duration_s", "Held for", "s", required=False),
        ask("temperature_c", "Air temperature", "°C", required=False),
    ),
    outcomes=("held", "broke_down"),
    preconditions=("VI1", "VI2", "VI3", "VI4", "VI5", "VI6", "VI7", "VI8"),
)
BASE = "Pa"
ABSENT = {
    "ac": "No ac level is known: neither the maker's, nor a rated withstand, nor a "
    "row of the table for this rating.",
    "dc": "A dc test across a vacuum gap is judged to the maker's level only, and "
    "none is given.",
}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: levels for ac and dc, a highest pressure for the magnetron."""
    bounds, unjudged, cites = withstand.bounds_and_reasons(
        "method",
        {
            "ac": withstand.first(
                [
                    withstand.given(subject.level_ac_kv),
                    withstand.of_nameplate(subject, criteria),
                    _of_metal_clad(subject, criteria),
                ]
            ),
            "dc": withstand.given(subject.level_dc_kv),
        },
        ABSENT,
    )
    limit, cite = _pressure(subject, criteria)
    bounds.append(
        {
            "kind": "high",
            "value": limit,
            "when": {"method": "magnetron"},
            "cite": len(cites),
        }
    )
    cites.append(cite)
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        gates=[
            {
                "on": "method",
                "known": True,
                "reason": "The method is not said: ac, dc or magnetron.",
            }
        ],
        bounds=bounds,
        unjudged=unjudged,
        cite=cites,
    )


def _of_metal_clad(subject: Subject, criteria: Criteria) -> withstand.Level | None:
    fraction = criteria.table("withstand_field_fraction").rows[0]["fraction"]
    rated = withstand.of_rating(
        criteria.table("rated_metal_clad"),
        subject.rated_kv,
        "withstand_kv",
        note=f"{fraction:g} of the rated withstand of a metal-clad breaker",
    )
    return None if rated is None else (fraction * rated[0], rated[1])


def _pressure(subject: Subject, criteria: Criteria) -> tuple[float, dict[str, Any]]:
    if subject.limit is not None:
        return convert(subject.limit, subject.limit_unit or BASE, BASE), dict(MAKER)
    table = criteria.table("vacuum_pressure")
    row = table.rows[0]
    return row["limit_pa"], table.cite(row)
