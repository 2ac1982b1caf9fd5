"""Made-up nameplates of grounds, cables, control wiring, arresters and meters."""

import random
from collections.abc import Callable, Mapping
from typing import Any

from models.procedures.given import Given

Plate = Callable[[random.Random], dict[str, Any]]


def _nothing(_: random.Random) -> dict[str, Any]:
    return {}


def _of(**choices: tuple[Any, ...]) -> Plate:
    """Return what makes a plate, each field one of its choices."""
    return lambda source: {n: source.choice(known) for n, known in choices.items()}


def _with(quantity: str, values: tuple[float, ...], plate: Plate) -> Plate:
    """Return what makes a plate where a project gives one figure most of the time."""

    def made(source: random.Random) -> dict[str, Any]:
        one = Given(
            quantity=quantity,
            value=source.choice(values),
            standing="project",
            scope="lineup",
            document="Made up",
        )
        return {**plate(source), "given": (one,) if source.random() < 0.8 else ()}

    return made


LIMIT = (None, 300.0, 612.5)
OF_WIRING: Mapping[str, Plate] = {
    "arrester_leakage": _of(limit=LIMIT),
    "arrester_watts_loss": _with("watts_loss_spread", (1.2, 1.5), _of(limit=LIMIT)),
    "cable_sheath": _of(jacket_mm=(None, 1.6, 2.0, 3.2)),
    "cable_shield": _nothing,
    "cable_tan_delta": _of(cable_insulation=(None, "pe", "epr", "paper")),
    "cable_withstand": _of(
        cable_kv=(None, 5.0, 12.0, 15.0, 25.0, 35.0), cable_level=(None, "100", "133")
    ),
    "insulation_capacitance": _with(
        "capacitance_departure", (5.0, 10.0), _of(capacitance_pf=(None, 350.0, 351.5))
    ),
    "control_wiring_insulation": _of(wiring_v=(None, 120.0, 300.0, 600.0, 1000.0)),
    "control_wiring_withstand": _nothing,
    "ct_insulation": _of(limit=LIMIT),
    "dc_supply": _with(
        "float_departure",
        (1.0, 2.0),
        _of(
            control_nominal=(None, "48_v_dc", "125_v_dc", "250_v_dc"),
            battery_float_v=(None, 54.0, 134.0),
        ),
    ),
    "fuse_rating": _of(fuse_a=(None, 65.0, 80.0)),
    "ground_point_to_point": _of(splice_limit_uohm=(None, 50.0, 80.5)),
    "heater_current": _with(
        "heater_departure",
        (10.0, 15.0),
        _of(heater_w=(None, 250.0, 375.0), heater_v=(120.0, 240.0)),
    ),
    "meter_accuracy": _of(
        meter_class_pct=(None, 0.5, 1.0), meter_multiplier=(None, None, 120.0)
    ),
    "phase_identity": _nothing,
    "winding_insulation": _of(
        vt_primary_v=(None, 4160.0, 14400.0),
        vt_secondary_v=(None, 120.0),
        winding_kind=(None, "dry", "liquid"),
        limit=(None, None, 30000.0),
    ),
}
