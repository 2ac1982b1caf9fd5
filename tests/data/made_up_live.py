"""Made-up nameplates of what is read on live gear, and its usual readings."""

import random
from collections.abc import Callable, Mapping
from typing import Any

from models.procedures.given import Given

Plate = Callable[[random.Random], dict[str, Any]]
USUAL_LIVE = {"phasing": 120.0, "voltage_indication": 5.0, "current_angle": -25.0}


def _plate(choices: Mapping[str, tuple[Any, ...]], **adopted: float) -> Plate:
    """Return what makes a plate up, and most of the time what a lead has adopted."""

    def made(source: random.Random) -> dict[str, Any]:
        given = tuple(
            Given(
                quantity=quantity,
                value=value,
                standing="project",
                scope="lineup",
                document="Made up",
            )
            for quantity, value in adopted.items()
        )
        plate = {name: source.choice(known) for name, known in choices.items()}
        return {**plate, "given": given if source.random() < 0.8 else ()}

    return made


OF_LIVE: Mapping[str, Plate] = {
    "phase_rotation": _plate({"rotation": (None, "abc", "acb")}),
    "phasing": _plate({}, phasing_like=10.0, phasing_unlike=10.0),
    "voltage_indication": _plate(
        {"indicator_v_min": (None, 3.5, 4.0), "indicator_v_max": (None, 5.5, 6.0)}
    ),
    "current_angle": _plate(
        {
            "ct_primary_a": (None, 600.0, 600.0, 1200.0),
            "ct_secondary_a": (5.0, 5.0, 1.0),
            "ct_toward": (None, "bus", "bus", "feeder"),
            "rotation": (None, "abc", "abc", "acb"),
        },
        service_angle=5.0,
        service_current=5.0,
    ),
}
