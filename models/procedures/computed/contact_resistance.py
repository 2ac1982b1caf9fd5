"""Contact resistance: poles compared with the lowest, and with the maker's limit."""

from collections.abc import Mapping
from typing import Any

from models.judging.rules import Rule
from models.judging.tables import PRACTICE, Criteria
from models.procedures import precedence
from models.procedures.metal import metal_correction
from models.procedures.procedure import (
    GEARS,
    SWITCHING,
    Givable,
    Points,
    Procedure,
    ask,
    safety,
)
from models.procedures.subject import Subject
from models.procedures.times_baseline import against

LIMIT = Givable(
    name="contact_limit",
    title="Contact resistance at 20 °C, at most",
    side="greatest",
    units=("uOhm", "mOhm"),
)
SPREAD = Givable(
    name="contact_spread",
    title="Contact resistance, at most so many times the lowest of its group",
    side="greatest",
    units=("times",),
)
RISE = Givable(
    name="contact_rise",
    title="Contact resistance, at most so many times its baseline",
    side="greatest",
    units=("times",),
    suggested={
        "table": "usual_bands",
        "row": "contact or joint resistance, of the baseline",
        "column": "times",
    },
)
PROCEDURE = Procedure(
    name="contact_resistance",
    title="Contact resistance",
    method=(
        "Pass at least 100 A dc through the closed path and read the voltage drop "
        "between its ends with separate leads. Each pole is compared with the lowest "
        "of its group, corrected to 20 °C unless the site compares as read."
    ),
    units=("uOhm", "mOhm"),
    default_unit="uOhm",
    asks=(
        ask("temperature_c", "Temperature of the conductor"),
        ask("test_current_a", "Test current, dc"),
    ),
    outcomes=(),
    preconditions=("CR1", "CR2", "CR3", "CR4", "CR5"),
    safety=safety("CR"),
    gears=GEARS,
    apparatus=("bus", *SWITCHING, "earthing_switch", "joint"),
    points=Points("poles"),
    rests_on=("conductor", "contact_limit_uohm", "contact_correction"),
    columns={"limit": ("contact_limit_uohm",)},
    givable=(LIMIT, SPREAD, RISE),
    against_baseline=True,
    worse="higher",
    scale="linear",
    compared=True,
    example={
        "value": "41",
        "unit": "uOhm",
        "other_1": "38.5",
        "other_2": "39.7",
        "accuracy_pct": "1",
        "temperature_c": "24",
        "test_current_a": "100",
        "conductor": "copper",
        "limit": "60",
    },
)
BASE = "uOhm"
KNOWN = {
    "on": "temperature_c",
    "known": True,
    "reason": "The temperature of the conductor is not known: "
    "the reading cannot be corrected.",
}
# Poles that were measured at one temperature compare as they were read.
AS_READ = {
    **PRACTICE,
    "document": "Setting of the site",
    "row": "contact resistance is compared as read, not corrected to 20 °C",
}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: at most 1.5 times the lowest, at most the limit given.

    Where a lead has adopted it, at most so many times the baseline. Corrected to
    20 degC, unless the site compares as read.
    """
    spread = criteria.table("contact_spread")
    row = spread.rows[0]
    current = criteria.table("contact_test_current").rows[0]
    correction, metal = _correction(subject, criteria, cite=2)
    times = precedence.decides(
        [
            *precedence.given(subject, SPREAD),
            precedence.tabled(SPREAD, row["times"], spread.cite(row)),
        ]
    )
    assert times is not None
    cites = [
        times.cite,
        criteria.table("contact_test_current").cite(current),
        metal,
    ]
    bounds: list[dict[str, Any]] = [
        {"kind": "high_of_lowest", "times": times.value, "cite": 0}
    ]
    limit = precedence.decides(
        [
            *precedence.given(subject, LIMIT),
            precedence.on_nameplate(LIMIT, _on_nameplate(subject)),
        ]
    )
    if limit is not None:
        bounds.append({"kind": "high", "value": limit.value, "cite": len(cites)})
        cites.append(limit.cite)
    rise = precedence.decides(precedence.given(subject, RISE))
    read = against(subject.baseline, BASE)
    if rise is not None and read is not None:
        times_of = {"high_times": rise.value, "cite": len(cites)}
        bounds.append({"kind": "of_baseline", **read, **times_of})
        cites.append(rise.cite)
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        gates=[
            {
                "on": "reading",
                "not_zero": True,
                "reason": "A resistance of 0 is no reading: the leads touch each "
                "other, or the range is too coarse.",
            },
            *([] if _as_read(subject) else [KNOWN]),
            {
                "on": "test_current_a",
                "at_least": current["at_least_a"],
                "unit": "A",
                "reason": "The test current is below what the test asks for.",
            },
        ],
        correction=correction,
        bounds=bounds,
        cite=cites,
    )


def _as_read(subject: Subject) -> bool:
    return subject.word("contact_correction") == "as_read"


def _correction(
    subject: Subject, criteria: Criteria, *, cite: int
) -> tuple[dict[str, Any], Mapping[str, Any]]:
    """Return the correction and its source; the site may have chosen none."""
    if _as_read(subject):
        return {"by": "none"}, AS_READ
    return metal_correction(
        subject, criteria, plate="conductor", otherwise="copper", cite=cite
    )


def _on_nameplate(subject: Subject) -> float | None:
    limit = subject.column("limit", BASE)
    return subject.number("contact_limit_uohm") if limit is None else limit
