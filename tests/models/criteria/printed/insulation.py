"""Insulation resistance, polarization: the pages written a second time."""

from tests.models.criteria.printed.shapes import C, M, P, Printed, X, each

CORRECTION_40 = """
-10 0.03 0.10 | -5 0.04 0.13 | 0 0.06 0.16 | 5 0.09 0.20 | 10 0.13 0.25
15 0.18 0.31 | 20 0.25 0.40 | 25 0.35 0.50 | 30 0.50 0.63 | 35 0.71 0.79
40 1.00 1.00 | 45 1.41 1.26 | 50 2.00 1.59 | 55 2.83 2.00 | 60 4.00 2.52
65 5.66 3.17 | 70 8.00 4.00 | 75 11.31 5.04 | 80 16.00 6.35 | 85 22.63 8.00
90 32.00 10.08 | 95 45.25 12.70 | 100 64.00 16.00 | 105 90.51 20.16
110 128.00 25.40
"""

TABLES: Printed = {
    # The one-megohm rule as a forum thread has it; TM 5-683 for moulded cases.
    "insulation_minimum_rule": (
        "each_kilovolt floor provenance",
        [(1, 1, P), (1, None, P)],
    ),
    # Test voltages: a procedure sheet and ATS-2009. The minimum: from memory.
    "control_wiring_insulation": (
        "rated_v test_v hold_s provenance minimum minimum_provenance",
        [(300, 500, 60, P, 2, M), (600, 1000, 60, P, 2, M)],
    ),
    # Field: an installation manual, page 23. Factory: a 38 kV manual prints 1500 V;
    # 900 V for motors is from memory.
    "control_wiring_withstand": (
        "row ac_v dc_v hold_s provenance",
        [
            ("field, circuits", 1125, 1590, 60, P),
            ("field, motors", 675, None, 60, P),
            ("factory, circuits", 1500, None, 60, P),
            ("factory, motors", 900, None, None, M),
        ],
    ),
    # NETA Table 100.5: from memory.
    "transformer_insulation": (
        "above_v to_v test_v liquid dry provenance",
        each(
            M,
            (0, 600, 1000, 100, 500),
            (600, 5000, 2500, 1000, 5000),
            (5000, None, 5000, 5000, 25_000),
        ),
    ),
    # NETA Table 100.14.2: worked out by its two rules.
    "insulation_correction_40": (
        "temperature_c oil solid provenance",
        [
            (*map(float, row.split()), X)
            for row in CORRECTION_40.replace("\n", "|").split("|")
            if row.strip()
        ],
    ),
    # Guide article (10 K, base 40), question page (powers of ten), tester manual
    # (base 20).
    "insulation_correction_rules": (
        "halving_c base_c provenance",
        each(P, (10, 40), (10, 40), (10, 20)),
    ),
    # IEEE 43 by a tester manual, page 171, and a forum summary.
    "polarization_minimum": (
        "thermal_class minimum provenance",
        each(P, ("A (105)", 1.5), ("B (130)", 2), ("F (155)", 2), ("H (180)", 2)),
    ),
    # Forum summary of IEEE 43 and a worked interpretation; NETA floor from memory.
    "polarization_limits": (
        "value unit provenance",
        [(5000, "MOhm", P), (8, "1", P), (1, "1", M)],
    ),
    # Tester manual, pages 22 to 24: 1.25 to 1.4 is in no band.
    "polarization_bands": (
        "dar_from dar_to pi_from pi_to provenance",
        each(
            P,
            (None, 1, None, 1),
            (1, 1.25, 1, 2),
            (1.4, 1.6, 2, 4),
            (1.6, None, 4, None),
        ),
    ),
    # The other version: an instrument manual.
    "polarization_bands_other": (
        "dar_from dar_to pi_from pi_to provenance",
        each(
            P,
            (None, 1, None, None),
            (1, 1.25, 1, 2),
            (1.25, 1.6, 2, 4),
            (1.6, None, 4, None),
        ),
    ),
    # Forum summary of IEEE 43; armatures: articles on the edition of 2013.
    "machine_insulation_minimum": (
        "minimum each_kilovolt provenance",
        each(P, (1, 1), (100, None), (5, None), (5, None)),
    ),
    # Two pages about the formula; the first names the WMO's guide.
    "dew_point": (
        "value unit provenance",
        [(17.62, "1", P), (243.12, "degC", P), (-45, "degC", P), (60, "degC", P)],
    ),
    # Common practice: nothing to compare with.
    "insulation_cautions": (
        "value unit provenance",
        [(3, "degC", C), (75, "%", C), (25, "%", C), (20, "%", C)],
    ),
}
