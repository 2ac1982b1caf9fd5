"""Figures of this program, a second time: what procedures suggest, none published."""

from tests.models.criteria.printed.shapes import Printed, each

S = "suggested"

TABLES: Printed = {
    "usual_bands": (
        "row pct times within_deg provenance",
        each(
            S,
            ("bolt torque, upper end", None, 1.1, None),
            ("power factor, of the baseline", None, 1.5, None),
            ("coil current, of nameplate volts over ohms", 10, None, None),
            ("coil current, of the baseline", 20, None, None),
            ("CT winding resistance, of the baseline", 5, None, None),
            ("current injection, of injected over ratio", 5, None, None),
            ("voltage injection, of what is injected", 2, None, None),
            ("battery float voltage, as set", 1, None, None),
            ("two sources, like phases", 10, None, None),
            ("two sources, unlike phases", 10, None, None),
            ("current in service, angle", None, None, 5),
            ("current in service, magnitude", 5, None, None),
            ("heater current, of nameplate watts over volts", 10, None, None),
            ("breaker times, of the baseline", 10, None, None),
            ("contact travel, of the baseline", 10, None, None),
            ("contact speed, of the baseline", 10, None, None),
            ("contact or joint resistance, of the baseline", None, 1.2, None),
            ("capacitance, of the baseline", 5, None, None),
            ("coil signature, times of the baseline", 20, None, None),
        ),
    ),
}
