"""Made-up nameplates of points that are compared with what was accepted."""

import random
from collections.abc import Callable, Mapping
from typing import Any

from models.procedures.baseline import Baseline
from models.procedures.given import Given

Plate = Callable[[random.Random], dict[str, Any]]
# quantity, figure, value and unit of the baseline
ADOPTED: Mapping[str, tuple[str, float, float, str]] = {
    "breaker_timing": ("breaker_time_change", 10.0, 0.05, "s"),
    "coil_times": ("coil_times_change", 20.0, 0.012, "s"),
    "contact_resistance": ("contact_rise", 1.2, 40.0, "uOhm"),
    "contact_speed": ("contact_speed_change", 10.0, 1.0, "m/s"),
    "contact_travel": ("contact_travel_change", 10.0, 11.0, "mm"),
    "insulation_capacitance": ("capacitance_change", 5.0, 350.0, "pF"),
    "joint_resistance": ("joint_rise", 1.2, 9.5, "uOhm"),
}


def at_a_point(procedure: str, plate: Plate) -> Plate:
    """Return what makes up the plate, most of the time with a baseline adopted."""
    quantity, figure, value, unit = ADOPTED[procedure]

    def made_up(source: random.Random) -> dict[str, Any]:
        fields = plate(source)
        if source.random() < 0.1:
            return fields
        share = Given(
            quantity=quantity,
            value=figure,
            standing="project",
            scope="kind",
            document="adopted",
        )
        baseline = Baseline(
            value=value * source.uniform(0.85, 1.15),
            unit=unit,
            expanded=source.choice((None, 0.05 * value, 0.1 * value)),
            round="Acceptance 1",
        )
        given = (*fields.get("given", ()), share)
        return {**fields, "given": given, "baseline": baseline}

    return made_up
