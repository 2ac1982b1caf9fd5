"""Contacts, fuses, metals, bolts, heat: the pages written a second time."""

from tests.models.criteria.printed.shapes import C, M, P, Printed, each

TABLES: Printed = {
    # A micro-ohmmeter support note.
    "contact_test_current_iec": ("at_least_a provenance", [(50, P)]),
    # IEC 62271-1: from memory, 20 % and 1.2 Ru.
    "contact_change_iec": ("times provenance", [(1.2, M), (1.2, M)]),
    # A breaker article: no standard.
    "contact_factory_multiples": (
        "from_times to_times provenance",
        [(2, 3, C), (3, None, C)],
    ),
    "contact_new_pole": (
        "from_uohm to_uohm provenance",
        each(C, (15, 70), (30, 120), (20, 60)),
    ),
    # A fuse thread: NETA's recommendation of 15 %.
    # A test set's manual, page 107: below 5 % acceptable, above 10 % critical.
    "capacitance_change": ("acceptable_pct critical_pct provenance", [(5, 10, P)]),
    "fuse_fitting": ("difference_a provenance", [(0, C)]),
    "fuse_spread": ("spread_pct provenance", [(15, P)]),
    # An article on metals; 225 from memory.
    "metals_other_prints": (
        "metal k provenance",
        [
            ("copper", 234.5, P),
            ("aluminium", 228, P),
            ("aluminium, electrical grade", 225, M),
        ],
    ),
    # Two pages on the resistance of metals.
    "metal_alpha": (
        "metal alpha provenance",
        [("copper", 0.00393, P), ("aluminium", 0.00403, P)],
    ),
    # NETA Table 100.12.1: numbers from memory. lb-ft, dry.
    "bolt_torque_steel": (
        "diameter_in grade_1_2 grade_5 grade_7 grade_8 provenance",
        each(
            M,
            (1 / 4, 4, 6, 8, 8),
            (5 / 16, 7, 11, 15, 18),
            (3 / 8, 12, 20, 27, 30),
            (7 / 16, 19, 32, 44, 48),
            (1 / 2, 30, 48, 68, 74),
            (9 / 16, 42, 70, 96, 105),
            (5 / 8, 59, 96, 135, 145),
            (3 / 4, 96, 160, 225, 235),
            (7 / 8, 150, 240, 350, 380),
            (1, 225, 370, 530, 570),
        ),
    ),
    # NETA Tables 100.12.2 to 4: numbers from memory, but for 3/4 in, where NEMA
    # CC1-2009 prints 87, 54 and 87.
    "bolt_torque_other": (
        "diameter_in bronze_dry bronze_lubricated aluminium_lubricated stainless "
        "provenance",
        each(
            M,
            (5 / 16, 15, 10, 10, 15),
            (3 / 8, 20, 15, 14, 20),
            (1 / 2, 40, 25, 25, 40),
            (5 / 8, 55, 40, 40, 55),
            (3 / 4, 87, 60, 54, 87),
        ),
    ),
    # NEMA CC1-2009 in a connector catalogue of 2017, page 337.
    "bolt_torque_connectors": (
        "diameter_in bronze_stainless_galvanized aluminium_lubricated provenance",
        each(
            P,
            (1 / 4, 7, None),
            (5 / 16, 15, None),
            (3 / 8, 20, 14),
            (1 / 2, 40, 25),
            (5 / 8, 55, 40),
            (3 / 4, 87, 54),
        ),
    ),
    # ATS-2003 Table 100.18, page 164; its whole degrees made into bands.
    "thermographic_survey": (
        "similar_above_k similar_to_k air_above_k air_to_k provenance",
        each(
            P,
            (0, 3, 0, 10),
            (3, 15, 10, 20),
            (None, None, 20, 40),
            (15, None, 40, None),
        ),
    ),
    # A meter manual (10 dBmV), two survey firms (4 to 100 MHz); the rest: memory.
    "partial_discharge": (
        "from_level to_level least_above_background of_limit unit provenance",
        [
            (None, 10, None, None, "dBmV", P),
            (None, 20, None, None, "dBmV", M),
            (20, 29, None, None, "dBmV", M),
            (29, None, 10, None, "dBmV", M),
            (6, None, None, None, "dBuV", M),
            (300, 3000, None, None, "MHz", M),
            (4, 100, None, None, "MHz", P),
            (None, None, None, 0.5, "1", M),
        ],
    ),
}
