"""Control voltages and operating times: the pages written a second time."""

from tests.models.criteria.printed.shapes import M, P, Printed, X, each

TABLES: Printed = {
    # Four breaker manuals that attribute it to C37.06.
    "control_voltage": (
        "nominal nominal_v close_low_v close_high_v trip_low_v trip_high_v pick_up_v "
        "drop_low_v drop_high_v provenance",
        each(
            P,
            ("24 V dc", 24, 19, 28, 14, 28, None, 7, 14),
            ("48 V dc", 48, 36, 56, 28, 56, 38, 15, 29),
            ("125 V dc", 125, 100, 140, 70, 140, 100, 38, 75),
            ("250 V dc", 250, 200, 280, 140, 280, 200, 75, 150),
            ("120 V ac", 120, 104, 127, 104, 127, 96, 36, 72),
            ("240 V ac", 240, 208, 254, 208, 254, 192, 72, 144),
        ),
    ),
    # 70 to 110 % dc: air breaker manuals; the others from memory.
    "control_voltage_iec": (
        "low_pct high_pct provenance",
        [(85, 110, M), (70, 110, P), (85, 110, M)],
    ),
    # Breaker manuals: drop-out, pick-up.
    "undervoltage_release": (
        "drop_low_pct drop_high_pct pick_up_low_pct pick_up_high_pct provenance",
        [
            (30, 60, None, 80, P),
            (30, 60, 60, 80, P),
            (35, 60, 85, None, P),
            (35, 70, 85, None, P),
        ],
    ),
    # IEC 62271-100: from memory; milliseconds worked out.
    "pole_spread": (
        "at_most_cycles ms_60 ms_50 provenance",
        each(
            M,
            (
                1 / 4,
                4.17,
                5,
            ),
            (1 / 6, 2.78, 3.33),
            (1 / 6, None, None),
            (1 / 8, None, None),
        ),
    ),
    # A maker's switching times (2 ms); an article (5 ms, half a cycle).
    "pole_spread_prints": (
        "at_most_ms provenance",
        each(P, (2,), (5,), (8.33,), (10,)),
    ),
    # A maker's switching times; cycles worked out at 60 Hz; usual times: memory.
    "breaker_times": (
        "row from_ms to_ms provenance",
        [
            ("closing", None, 60, P),
            ("opening, first release", None, 30, P),
            ("opening, second and third release", None, 45, P),
            ("arcing", None, 15, P),
            ("break, first release", None, 45, P),
            ("break, other releases", None, 60, P),
            ("close-open", 45, 75, P),
            ("dead time", 300, None, P),
            ("charging of the spring", None, 15_000, P),
            ("least command, close", 45, None, P),
            ("least command, trip", 20, 40, P),
            ("interrupting, 3 cycles at 60 Hz", None, 50, X),
            ("interrupting, 5 cycles at 60 Hz", None, 83, X),
            ("reclosing, 15 to 20 cycles at 60 Hz", 250, 333, M),
            ("opening, usual", 30, 45, M),
            ("closing, usual", 35, 60, M),
            ("contact bounce on closing, usual", None, 2, M),
        ],
    ),
}
