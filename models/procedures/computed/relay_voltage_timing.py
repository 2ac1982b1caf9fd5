"""Timing of undervoltage and overvoltage elements with an inverse curve (27 and 59)."""

from dataclasses import replace
from typing import Any

from models.judging.rules import Rule
from models.judging.settings import setting_fault
from models.judging.tables import Criteria, Row
from models.procedures import relay_tolerance
from models.procedures.procedure import GEARS, Points, Procedure, ask, safety
from models.procedures.subject import Subject

TOLERANCE = (
    replace(
        relay_tolerance.PCT,
        name="voltage_tolerance_pct",
        title="Tolerance of a voltage element's time, part of the expected time",
    ),
    replace(
        relay_tolerance.S,
        name="voltage_tolerance_s",
        title="Tolerance of a voltage element's time, fixed part",
    ),
)
PROCEDURE = Procedure(
    name="relay_voltage_timing",
    title="Timing of inverse voltage elements",
    method=(
        "Apply the voltage to the relay's own input, healthy at first, and step it at "
        "once to the test value: below the setting for undervoltage (27), above it for "
        "overvoltage (59). Time from the step to the trip contact. The time is "
        "compared with the curve as set, at the departure from the setting."
    ),
    units=("s", "ms"),
    default_unit="s",
    asks=(ask("applied_v", "Applied voltage, on the base of the setting"),),
    outcomes=("no_trip",),
    preconditions=("RS1", "RS2", "RS3", "RS4", "RS5"),
    safety=safety("RS"),
    gears=GEARS,
    apparatus=("relay",),
    points=Points("voltages"),
    rests_on=(
        "voltage_curve",
        "set_value",
        "set_unit",
        "time_dial",
        "tolerance_pct",
        "tolerance_s",
    ),
    givable=TOLERANCE,
    worse="away",
    scale="log",
    example={
        "value": "5.1",
        "unit": "s",
        "accuracy_fixed": "0.01",
        "applied_v": "132",
        "voltage_curve": "over_a",
        "set_value": "120",
        "set_unit": "V",
        "time_dial": "0.5",
    },
)
# Times are stated from a tenth beyond the setting on: `relay_functions`, 27 at 0.9 and
# 59 at 1.1 of it.
START = 1.1
GATE = {
    "on": "applied_v",
    "known": True,
    "reason": "The applied voltage is not known.",
}
ROWS = {
    "over_a": "curve A",
    "over_b": "curve B, over",
    "over_c": "curve C",
    "under_a": "curve A",
    "under_b": "curve B, under",
}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: the constants of the curve, the setting in volts."""
    table = criteria.table("relay_voltage_inverse")
    name = subject.word("voltage_curve") or ""
    row = table.find(lambda one: one["row"] == ROWS.get(name))
    faults = list(_faults(subject, row))
    bounds, cites = [], []
    if row is not None and not faults:
        pct, s, cite = relay_tolerance.parts(subject, criteria, TOLERANCE)
        cites = [table.cite(row), cite]
        bounds = [_bound(subject, row, name, pct, s)]
    return Rule(
        procedure=PROCEDURE.name,
        unit="s",
        gates=[GATE],
        bounds=bounds,
        unjudged=[{"reason": fault} for fault in faults],
        cite=cites,
    )


def _faults(subject: Subject, row: Row | None) -> list[str]:
    in_volts = subject.word("set_unit") in (None, "V")
    found = (
        "The voltage curve is not known: choose it among the settings of the relay."
        if row is None
        else None,
        setting_fault("pickup_v", subject.number("set_value")),
        None if in_volts else "The setting is not in volts.",
        setting_fault("time_dial", subject.number("time_dial")),
    )
    return [fault for fault in found if fault is not None]


def _bound(
    subject: Subject, row: Row, name: str, pct: float, s: float
) -> dict[str, Any]:
    side, letter = name.split("_")
    label = f"{side}voltage, curve {letter.upper()}"
    curve = {key: row[key] for key in "abde"} | {"c": row["c0"]}
    return {
        "kind": "operating_time",
        "curve": {"name": name, "label": label, "form": "voltage", **curve}
        | ({"falls": True} if side == "under" else {}),
        "pickup_v": subject.number("set_value"),
        "time_dial": subject.number("time_dial"),
        "start_multiple": START,
        "tolerance_pct": pct,
        "tolerance_s": s,
        "cite": 0,
        "tolerance_cite": 1,
    }
