"""Relay timing: the operating time against the curve as set."""

from typing import Any

from models.judging.kinds import relay_tolerance
from models.judging.procedures import Procedure, ask
from models.judging.rules import Rule
from models.judging.settings import setting_fault
from models.judging.subject import Subject
from models.judging.tables import Criteria, Row

PROCEDURE = Procedure(
    name="relay_timing",
    title="Relay trip timing",
    method=(
        "Inject a steady current into the relay, from well below pickup at once to "
        "the test value, and time from that moment to the trip contact. The time is "
        "compared with the curve as set, at the multiple that was injected."
    ),
    units=("s", "ms"),
    default_unit="s",
    asks=(ask("applied_a", "Applied current, on the base of the pickup", "A"),),
    outcomes=("no_trip",),
    preconditions=("RS1", "RS2", "RS3", "RS4", "RS5"),
)
BASE = "s"
START_MULTIPLE = 1.3  # from here on a multiple is a timing point
GATE = {
    "on": "applied_a",
    "known": True,
    "reason": "The applied current is not known.",
}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: the curve's own constants, not only its name."""
    curves = criteria.table("relay_curves")
    row = curves.find(lambda r: r["curve"] == subject.curve)
    unjudged = [{"reason": fault} for fault in _faults(subject, row)]
    bounds, cites = [], []
    if row is not None and not unjudged:
        pct, s, cite = relay_tolerance.parts(subject, criteria)
        cites = [curves.cite(row), cite]
        bounds = [_bound(subject, row, pct, s)]
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        gates=[GATE],
        bounds=bounds,
        unjudged=unjudged,
        cite=cites,
    )


def _faults(subject: Subject, row: Row | None) -> list[str]:
    declared = (subject.tolerance_pct or 0.0, subject.tolerance_s or 0.0)
    found = (
        "The curve is not known." if row is None else None,
        setting_fault("The pickup", subject.pickup_a),
        setting_fault("The time dial", subject.time_dial),
        None if min(declared) >= 0 else "The declared tolerance is below zero.",
    )
    return [fault for fault in found if fault is not None]


def _bound(subject: Subject, row: Row, pct: float, s: float) -> dict[str, Any]:
    return {
        "kind": "operating_time",
        "curve": {
            "name": row["curve"],
            "label": row["label"],
            "form": row["form"],
            "a": row.get("a", 0.0),
            "b": row.get("b", 0.0),
            "p": row.get("p", 0.0),
        },
        "pickup_a": subject.pickup_a,
        "time_dial": subject.time_dial,
        "start_multiple": START_MULTIPLE,
        "tolerance_pct": pct,
        "tolerance_s": s,
        "cite": 0,
        "tolerance_cite": 1,
    }
