"""A dual-slope differential relay: the operate current at each restraint."""

from collections.abc import Iterator
from typing import Any

from models.judging.rules import Rule
from models.judging.tables import Criteria, Table
from models.procedures import precedence
from models.procedures.differential import FROM_PICKUP, ORIGIN, corners, slopes_of
from models.procedures.precedence import Claim, decides
from models.procedures.procedure import GEARS, Givable, Points, Procedure, ask, safety
from models.procedures.subject import Subject

TOLERANCE = Givable(
    name="differential_tolerance",
    title="Differential characteristic, tolerance of the operate current",
    side="greatest",
    units=("%",),
)
SLOPE, THROUGH_FAULT = "characteristic", "through_fault"
PROCEDURE = Procedure(
    name="relay_differential",
    title="Differential characteristic",
    method=(
        "Inject both windings at the restraint that the point says, in balance, and "
        "lower the second current slowly until the relay operates. The reading is the "
        "difference of both currents, after the taps, in amperes of the tap of winding "
        "1. For the through fault raise both together in balance: the relay must not "
        "operate."
    ),
    units=("A", "mA"),
    default_unit="A",
    asks=(
        ask("restraint_pu"),
        ask("differential_test"),
    ),
    outcomes=("no_trip",),
    preconditions=("RS1", "RS2", "RS3", "RS4", "RS5"),
    safety=safety("RS"),
    gears=GEARS,
    apparatus=("relay",),
    points=Points("restraints"),
    rests_on=(
        "diff_form",
        "diff_pickup_pu",
        "slope_1_pct",
        "slope_2_pct",
        "break_pu",
        "restraint_as",
        "tap_1_a",
        "tap_2_a",
        "diff_tolerance_pct",
    ),
    givable=(TOLERANCE,),
    worse="away",
    scale="linear",
    example={
        "value": "2.48",
        "differential_test": "characteristic",
        "unit": "A",
        "accuracy_pct": "0.5",
        "restraint_pu": "2",
        "diff_form": "origin",
        "diff_pickup_pu": "0.3",
        "slope_1_pct": "25",
        "slope_2_pct": "60",
        "break_pu": "3",
        "restraint_as": "average",
        "tap_1_a": "4.9",
        "tap_2_a": "3.6",
    },
)
GATES = [
    {
        "on": "restraint_pu",
        "known": True,
        "reason": "The restraint current is not known.",
    },
    {
        "on": "differential_test",
        "known": True,
        "reason": "Say whether this is the characteristic or a through fault.",
    },
]
SETTINGS = {
    "diff_pickup_pu": "The pickup of the differential",
    "slope_1_pct": "The first slope",
    "slope_2_pct": "The second slope",
    "break_pu": "The break of the slopes",
    "tap_1_a": "The tap of winding 1",
}
ROWS = {ORIGIN: "line through the origin", FROM_PICKUP: "line from the pickup"}
THROUGH = {"differential_test": THROUGH_FAULT}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: the corners of the characteristic, and the through fault."""
    faults = list(_faults(subject))
    if faults:
        unjudged = [{"reason": fault} for fault in faults]
        return Rule(procedure=PROCEDURE.name, unit="A", gates=GATES, unjudged=unjudged)
    table = criteria.table("differential_band")
    row = table.find(lambda one: one["row"] == ROWS[str(subject.word("diff_form"))])
    assert row is not None
    tolerance, band = _tolerance(subject, table)
    tap_a = subject.number("tap_1_a") or 1.0
    line = [
        [pu, round(operate * tap_a, 9)] for pu, operate in corners(slopes_of(subject))
    ]
    on_line = {"on": "restraint_pu", "label": "restraint", "points": line}
    return Rule(
        procedure=PROCEDURE.name,
        unit="A",
        gates=GATES,
        bounds=[
            {"kind": "expected", "met": ["no_trip"], "missed": ["operated"]}
            | {"when": THROUGH},
            {"kind": "near", "expected": on_line, **band}
            | {"when": {"differential_test": SLOPE}, "cite": 0},
        ],
        cite=[{**table.cite(row), "note": _restraint_words(subject)}, tolerance.cite],
    )


def _faults(subject: Subject) -> Iterator[str]:
    if subject.word("diff_form") not in ROWS:
        yield "The form of the differential is not known."
    for name, said in SETTINGS.items():
        if subject.number(name) is None:
            yield f"{said} is not known."
    if subject.word("restraint_as") is None:
        yield "How the relay makes its restraint is not known: average, sum or maximum."
    known = all(subject.number(name) is not None for name in SETTINGS)
    if known and subject.word("diff_form") in ROWS:
        try:
            corners(slopes_of(subject))
        except ValueError as error:
            yield f"The settings do not fit together: {error}."


def _tolerance(subject: Subject, table: Table) -> tuple[Claim, dict[str, Any]]:
    """Return the share that decides, and both parts of the band.

    Where the relay or a project says a share, it stands alone; else the printed share
    or the amperes of tap 1.
    """
    row = table.rows[0]
    declared = precedence.on_nameplate(TOLERANCE, subject.number("diff_tolerance_pct"))
    usual = precedence.tabled(TOLERANCE, row["tolerance_pct"], table.cite(row))
    found = decides([*precedence.given(subject, TOLERANCE), declared, usual])
    assert found is not None
    if found.cite is not usual.cite:
        return found, {"pct": found.value}
    return found, {"pct": found.value, "fixed": row["tolerance_a"]}


def _restraint_words(subject: Subject) -> str:
    return f"restraint is the {subject.word('restraint_as')} of both currents"
