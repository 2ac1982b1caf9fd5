"""Vacuum integrity: a withstand across the open gap, or the residual pressure."""

from functools import partial

from models.judging.rules import Rule
from models.judging.tables import Criteria
from models.procedures import precedence, withstand
from models.procedures.precedence import Claim, decides
from models.procedures.procedure import (
    AIR_TEMPERATURE,
    GEARS,
    Givable,
    Points,
    Procedure,
    ask,
    safety,
)
from models.procedures.subject import Subject

AC, DC = (
    Givable(
        name=f"vacuum_{method}",
        title=f"Level across the open gap, {method}",
        side="level",
        units=("kV",),
    )
    for method in ("ac", "dc")
)
PRESSURE = Givable(
    name="vacuum_pressure",
    title="Residual pressure, at most",
    side="greatest",
    units=("Pa", "mbar", "Torr"),
)
PROCEDURE = Procedure(
    name="vacuum_integrity",
    title="Vacuum integrity",
    method=(
        "With the breaker open at its normal gap and everybody at the instruction "
        "book's distance (X-rays are possible), apply the test voltage across each "
        "interrupter for one minute. The residual pressure by the magnetron method "
        "has a card of its own; where a round has none it is taken here."
    ),
    units=("Pa", "mbar", "Torr"),
    default_unit="Pa",
    asks=(
        ask("method", choices=("ac", "dc", "magnetron")),
        ask("test_kv", "Voltage reached", required=False),
        ask("duration_s", required=False),
        AIR_TEMPERATURE,
    ),
    outcomes=("held", "broke_down"),
    preconditions=("VI1", "VI2", "VI3", "VI4", "VI5", "VI6", "VI7", "VI8"),
    safety=safety(by="method", ac="VI_ac", dc="VI_dc", magnetron="VI_magnetron"),
    gears=GEARS,
    apparatus=("breaker", "contactor"),
    points=Points("poles"),
    rests_on=(
        "rated_kv",
        "rated_withstand_kv",
        "vacuum_ac_kv",
        "vacuum_dc_kv",
        "vacuum_limit_pa",
    ),
    columns={"limit": ("vacuum_ac_kv", "vacuum_dc_kv", "vacuum_limit_pa")},
    chosen_by="method",
    givable=(AC, DC, PRESSURE),
    worse="higher",
    scale="log",
    forecast=True,
    example={
        "outcome": "held",
        "method": "ac",
        "test_kv": "27",
        "duration_s": "60",
        "rated_kv": "15",
        "rated_withstand_kv": "36",
    },
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
    level = partial(withstand.level, subject, "method", "vacuum_{}_kv")
    bounds, unjudged, cites = withstand.bounds_and_reasons(
        "method",
        {
            "ac": decides(
                [
                    *withstand.given(subject, AC, level("ac")),
                    withstand.of_nameplate(subject, criteria, AC),
                    _of_metal_clad(subject, criteria),
                ]
            ),
            "dc": decides(withstand.given(subject, DC, level("dc"))),
        },
        ABSENT,
    )
    limit = _pressure(subject, criteria)
    bounds.append(
        {
            "kind": "high",
            "value": limit.value,
            "when": {"method": "magnetron"},
            "cite": len(cites),
        }
    )
    cites.append(dict(limit.cite))
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


def _of_metal_clad(subject: Subject, criteria: Criteria) -> Claim | None:
    fraction = criteria.table("withstand_field_fraction").rows[0]["fraction"]
    note = f"{fraction:g} of the rated withstand of a metal-clad breaker"
    table = criteria.table("rated_metal_clad")
    rated = withstand.of_rating(
        table, subject.number("rated_kv"), "withstand_kv", AC, note
    )
    if rated is None:
        return None
    return precedence.tabled(AC, fraction * rated.value, rated.cite, f"{note},")


def _pressure(subject: Subject, criteria: Criteria) -> Claim:
    plate = subject.number("vacuum_limit_pa")
    if subject.word("method") == "magnetron" and "limit" in subject.fields:
        plate = subject.column("limit", BASE)
    table = criteria.table("vacuum_pressure")
    row = table.rows[0]
    found = decides(
        [
            *precedence.given(subject, PRESSURE),
            precedence.on_nameplate(PRESSURE, plate),
            precedence.tabled(PRESSURE, row["limit_pa"], table.cite(row)),
        ]
    )
    assert found is not None
    return found
