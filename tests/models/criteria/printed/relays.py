"""Relays: the pages written a second time."""

from tests.models.criteria.printed.shapes import C, M, P, Printed, X, each

TABLES: Printed = {
    # Relay manuals; a, b, p, tr. I2t: from memory.
    "relay_curves_us": (
        "a b p tr provenance",
        [
            (0.0104, 0.0226, 0.02, 1.08, P),
            (5.95, 0.180, 2, 5.95, P),
            (3.88, 0.0963, 2, 3.88, P),
            (5.67, 0.0352, 2, 5.67, P),
            (0.00342, 0.00262, 0.02, 0.323, P),
            (0.16758, 0.11858, 0.02, None, P),
            (0.0086, 0.0185, 0.02, 0.46, P),
            (0.086, 0.185, 0.02, 4.6, P),
            (28.55, 0.712, 2, 13.46, P),
            (64.07, 0.250, 2, 30, P),
            (100, 0, 2, None, M),
        ],
    ),
    # Two relay manuals.
    "relay_curves_short": ("k alpha provenance", [(0.05, 0.04, P)]),
    # IEEE: a relay manual. IEC shapes: maker 1 with five, maker 2 with three.
    "relay_reset": (
        "tr provenance",
        each(
            P,
            *((4.85,), (21.6,), (29.1,)),
            *((13.5,), (47.3,), (80,), (120,), (4.85,)),
            *((9.7,), (43.2,), (58.2,)),
        ),
    ),
    # Relay references; elements that trip at 1.05 by design.
    "relay_start": ("by_multiple provenance", each(P, (1.3,), (1.1,), (1.05,))),
    # Relay manuals; a ceiling of 30 or none from memory.
    "relay_range": (
        "from_multiple to_multiple provenance",
        [
            (1.5, 20, P),
            (1.03, 20, P),
            (2, 20, P),
            (1.05, 2, P),
            (2, 20, P),
            (2, 7, P),
            (20, None, P),
            (30, None, M),
        ],
    ),
    # A relay specification quoting IEC 60255-151.
    "relay_tolerance_bands": (
        "from_multiple to_multiple times provenance",
        each(P, (2, 5, 2.5), (5, 10, 1.5), (10, None, 1)),
    ),
    # A feeder relay reference quoting IEC 60255-3.
    "relay_tolerance_points": (
        "multiple normal very extremely long_time provenance",
        each(
            P,
            (2, 2.22, 2.34, 2.44, 2.34),
            (5, 1.13, 1.26, 1.48, 1.26),
            (7, None, None, None, 1),
            (10, 1.01, 1.01, 1.02, None),
            (20, 1, 1, 1, None),
        ),
    ),
    # Relay manuals, one after the other; the last from memory.
    "relay_tolerance_makers": (
        "tolerance_pct fixed_ms provenance",
        [
            (2, 40, P),
            (5, 40, P),
            (3, 40, P),
            (5, 20, P),
            (1, 20, P),
            (5, 40, P),
            (5, 60, P),
            (2, 50, P),
            (5, 40, P),
            (2, 40, P),
            (5, 25, P),
            (10, 20, P),
            (0.2, 35, P),
            (1, 40, P),
            (0.5, 25, P),
            (2, 20, P),
            (4, 25, M),
        ],
    ),
    # A maker's commissioning chapter, at twice the setting, dial 1.
    "relay_acceptance": (
        "row nominal_s low_s high_s provenance",
        each(
            P,
            ("IEC standard inverse", 10.03, 9.53, 10.53),
            ("IEC very inverse", 13.50, 12.83, 14.18),
            ("IEC extremely inverse", 26.67, 24.67, 28.67),
            ("long-time inverse", 120, 114, 126),
            ("IEEE moderately inverse", 3.8, 3.61, 4.0),
            ("IEEE very inverse", 7.03, 6.68, 7.38),
            ("IEEE extremely inverse", 9.50, 9.02, 9.97),
            ("US inverse (U2)", 2.16, 2.05, 2.27),
            ("US short-time inverse (form 2)", 12.12, 11.51, 12.73),
        ),
    ),
    # Relay manuals: 5 % of set; 0.5 to 1.5 % of reading; drop-out.
    "relay_pickup_levels": (
        "low_pct high_pct within_pct provenance",
        [
            *((95, 105, None, P), (0.5, 1.5, None, P), (97, 98, None, P)),
            *((95, None, None, P), (102, 103, None, P), (None, None, 5, C)),
        ],
    ),
    # Technical data of relays, milliseconds.
    # A motor relay's functional test page; the origin form from memory.
    "differential_band": (
        "tolerance_pct tolerance_a provenance",
        [(2, 0.05, P), (None, None, M), (None, None, P)],
    ),
    # An acceptance specification, section 7.1, as quoted; a thermography firm's page.
    "site_needs": (
        "row least provenance",
        (
            *each(P, ("current expected in the secondary circuit", 1)),
            *each(M, ("load in service, of rated primary current", 10)),
            *each(P, ("load in a thermographic survey, of rated", 40)),
            *each(C, ("load that was typed in percent, and not as a fraction", 2)),
        ),
    ),
    # Definition: a third of a turn between phases; a mark turned round is half a turn.
    "phase_angles": (
        "row abc acb bus feeder factor within_deg provenance",
        (
            *each(
                X,
                ("Vb", -120, 120, None, None, None, None),
                ("Vc", 120, -120, None, None, None, None),
                ("Vab", 30, -30, None, None, None, None),
                ("Vbc", -90, 90, None, None, None, None),
                ("Vca", 150, -150, None, None, None, None),
                ("polarity mark", None, None, 0, 180, None, None),
                ("line over phase voltage", *[None] * 4, 1.7320508075688772, None),
            ),
            *each(C, ("guess of wrong wiring, off by at most", *[None] * 5, 10)),
        ),
    ),
    "relay_functions": (
        "row from_ms to_ms provenance",
        each(
            P,
            ("50, at 3 times, 60 Hz, with contact", None, 16),
            ("50, neutral", None, 20),
            ("50, from 0 to 2 times", 15, 30),
            ("50, from 0 to 10 times", 5, 20),
            ("27, start at 0.9 of the setting", 58, 82),
            ("59, at 1.1 times", 30, 52),
            ("59, at 2 times", 20, 43),
            ("59N, typical", None, 30),
            ("67, phase start, typical", None, 50),
            ("67N, residual, from 0 to 2 times", 115, 165),
            ("51G, non-directional start", 40, 65),
            ("arc-flash light, fastest", None, 1),
            ("arc-flash light, typical", None, 2.5),
            ("arc-flash: static output quicker than a contact by", 4, 6),
            ("arc-flash: breaker adds", 30, 75),
            ("50BF, current detector operates", None, 12),
            ("50BF, current detector resets", None, 15),
            ("86, one series", None, 8),
            ("86, second series, about half a cycle at 60 Hz", None, 8.33),
            ("86, added by an auxiliary trip relay", 10, 15),
        ),
    ),
    # Technical data of relays; 81 from memory.
    "relay_levels": (
        "from_value to_value unit provenance",
        [
            (None, 2, "%", P),
            (None, 1.5, "%", P),
            (0.01, 0.02, "Hz", M),
            (None, 2, "1", P),
            (2, 3, "1", P),
            (None, 2, "%", P),
        ],
    ),
    # Differential and breaker-failure pages of relays: late, early.
    "relay_cycles": (
        "at_most_cycles early_cycles provenance",
        each(P, (1.25, None), (1.75, None), (2, None), (0.75, None), (1.25, 0.5)),
    ),
    # A relay manual: A, B, C, D, E.
    "relay_voltage_inverse": (
        "a b c0 d e provenance",
        each(
            P,
            (1, 1, 0, 0, 1),
            (480, 32, 0.5, 0.035, 2),
            (480, 32, 0.5, 0.055, 2),
            (480, 32, 0.5, 0.035, 3),
        ),
    ),
    # Setting examples of two makers, milliseconds.
    "breaker_failure": (
        "part_1_ms part_2_ms part_3_ms part_4_ms part_5_ms total_ms provenance",
        each(
            P,
            (50, 50, 10, 50, None, 160),
            (50, 10, 50, None, None, 110),
            (50, 25, 50, None, None, 125),
            (40, 10, 20, None, None, 70),
            (70, 10, 40, 10, 10, 140),
        ),
    ),
}
