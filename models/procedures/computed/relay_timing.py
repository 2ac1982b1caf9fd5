"""Relay timing: the operating time against the curve as set."""

from typing import Any

from models.judging.rules import Rule
from models.judging.settings import setting_fault
from models.judging.tables import Criteria, Row, Table
from models.judging.timing_options import BANDS, NUMBERS, SETTING, option_faults
from models.procedures import relay_tolerance
from models.procedures.gives import Gives
from models.procedures.precedence import given
from models.procedures.procedure import GEARS, Points, Procedure, ask, safety
from models.procedures.subject import Subject

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
    asks=(
        ask("applied_a", "Applied current, on the base of the pickup"),
        ask(
            "measured_pickup_a",
            "Pickup as measured, on the same base",
            required=False,
        ),
    ),
    outcomes=("no_trip",),
    preconditions=("RS1", "RS2", "RS3", "RS4", "RS5"),
    safety=safety("RS"),
    gears=GEARS,
    apparatus=("relay",),
    points=Points("multiples"),
    rests_on=(
        "curve",
        "pickup_a",
        "time_dial",
        "tolerance_pct",
        "tolerance_s",
        "bands",
        "ceiling_multiple",
        "minimum_time_s",
        "pickup_error_pct",
        "current_error_pct",
        "timed_against",
        "pickup_base",
        "ct_primary_a",
        "ct_secondary_a",
    ),
    notes=("other_base_applied",),
    givable=(relay_tolerance.PCT, relay_tolerance.S),
    worse="away",
    scale="linear",
    waveform="trip",
    questions=(
        Gives(of="clearing", part="relay", at={"applied_a": "study_current"}),
        Gives(of="saturation"),
    ),
    example={
        "value": "5.92",
        "unit": "s",
        "accuracy_fixed": "0.01",
        "applied_a": "960",
        "curve": "ieee_very_inverse",
        "pickup_a": "320",
        "time_dial": "2",
    },
)
BASE = "s"
START_MULTIPLE = 1.3  # from here on a multiple is a timing point
GATE = {
    "on": "applied_a",
    "known": True,
    "reason": "The applied current is not known.",
}


BAND_TABLES = dict(zip(BANDS, ("relay_tolerance_bands",), strict=True))


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: the curve's own constants, not only its name."""
    curves = criteria.table("relay_curves")
    row = curves.find(lambda r: r["curve"] == subject.word("curve"))
    faults = _faults(subject, row)
    bounds, cites = [], []
    if row is not None and not faults:
        pct, s, cite = relay_tolerance.parts(subject, criteria)
        cites = [curves.cite(row), cite]
        bounds = [_bound(subject, row, pct, s) | _options(subject)]
        if (named := subject.word("bands")) is not None:
            table = criteria.table(BAND_TABLES[named])
            bounds[0]["bands"] = _bands(table, len(cites))
            cites += [table.cite(band) for band in table.rows]
        faults = option_faults(bounds[0])
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        gates=[GATE],
        bounds=[] if faults else bounds,
        unjudged=[{"reason": fault} for fault in faults],
        cite=[] if faults else cites,
    )


def _faults(subject: Subject, row: Row | None) -> list[str]:
    names = ("tolerance_pct", "tolerance_s")
    declared = [subject.number(name) or 0.0 for name in names]
    found = (
        "The curve is not known: choose it among the settings of the relay."
        if row is None
        else None,
        setting_fault("pickup_a", subject.number("pickup_a")),
        setting_fault("time_dial", subject.number("time_dial")),
        None if min(declared) >= 0 else "The declared tolerance is below zero.",
        _bands_fault(subject),
    )
    return [fault for fault in found if fault is not None]


def _bands_fault(subject: Subject) -> str | None:
    bands = subject.word("bands")
    if bands is None:
        return None
    if bands not in BANDS:
        return f"'{bands}' is no table of assigned error."
    if not (subject.number("tolerance_pct") or given(subject, relay_tolerance.PCT)):
        return "The assigned error of the relay is not declared."
    return None


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
        "pickup_a": subject.number("pickup_a"),
        "time_dial": subject.number("time_dial"),
        "start_multiple": START_MULTIPLE,
        "tolerance_pct": pct,
        "tolerance_s": s,
        "cite": 0,
        "tolerance_cite": 1,
    }


def _options(subject: Subject) -> dict[str, Any]:
    """Return the options that are given, and what decides."""
    set_to = {name: subject.number(name) for name in NUMBERS}
    options = {name: value for name, value in set_to.items() if value is not None}
    return {**options, "against": subject.word("timed_against") or SETTING}


def _bands(table: Table, first_cite: int) -> list[dict[str, Any]]:
    """Return the bands; the last has no end."""
    return [
        {"from": row["from_multiple"]}
        | ({"to": row["to_multiple"]} if "to_multiple" in row else {})
        | {"times": row["times"], "cite": first_cite + at}
        for at, row in enumerate(table.rows)
    ]
