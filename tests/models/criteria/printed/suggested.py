"""Figures of this program, a second time: what procedures suggest, none published."""

from tests.models.criteria.printed.shapes import Printed, each

S = "suggested"

TABLES: Printed = {
    "usual_bands": (
        "row pct times low_times high_times within_deg provenance",
        each(
            S,
            ("bolt torque, upper end", None, 1.1, None, None, None),
            ("power factor, of the baseline", None, None, None, 1.5, None),
            ("coil current, of nameplate volts over ohms", 10, *[None] * 4),
            ("coil current, of the baseline", None, None, 0.8, 1.2, None),
            ("CT winding resistance, of the baseline", None, None, 0.95, 1.05, None),
            ("current injection, of injected over ratio", 5, *[None] * 4),
            ("voltage injection, of what is injected", 2, *[None] * 4),
            ("battery float voltage, as set", 1, *[None] * 4),
            ("phasing, same phase of both sources", 10, *[None] * 4),
            ("phasing, other phases", 10, *[None] * 4),
            ("current in service, angle", *[None] * 4, 5),
            ("current in service, magnitude", 5, *[None] * 4),
            ("heater current, of nameplate watts over volts", 10, *[None] * 4),
        ),
    ),
}
