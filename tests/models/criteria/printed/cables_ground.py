"""Cables, grounding and discharge: the pages written a second time."""

from tests.models.criteria.printed.shapes import C, M, P, Printed, each

TABLES: Printed = {
    # IEEE 400.2-2013 Table 3 on a VLF application sheet: installation, acceptance,
    # maintenance, each r.m.s. and peak.
    "cable_vlf": (
        "rated_kv installation_kv installation_peak_kv acceptance_kv "
        "acceptance_peak_kv maintenance_kv maintenance_peak_kv provenance",
        each(
            P,
            (5, 9, 13, 10, 14, 7, 10),
            (8, 11, 16, 13, 18, 10, 14),
            (15, 19, 27, 21, 30, 16, 22),
            (20, 24, 34, 26, 37, 20, 28),
            (25, 29, 41, 32, 45, 24, 34),
            (28, 32, 45, 36, 51, 27, 38),
            (30, 34, 48, 38, 54, 29, 41),
            (35, 39, 55, 44, 62, 33, 47),
            (46, 51, 72, 57, 81, 43, 61),
        ),
    ),
    # ICEA S-97-682 in a guideline of 2010: after installation, first five years.
    "cable_dc": (
        "rated_kv new_100_kv new_133_kv later_100_kv later_133_kv provenance",
        each(
            P,
            (5, 28, 36, 9, 11),
            (8, 36, 44, 11, 14),
            (15, 56, 64, 18, 20),
            (25, 80, 96, 25, 30),
            (28, 84, 100, 26, 31),
            (35, 100, 124, 31, 39),
            (46, 132, 172, 41, 54),
        ),
    ),
    # UFGS 16302N, pages 40 and 41.
    "cable_dc_guide": (
        "rated_kv extruded_100_kv extruded_133_kv connector_kv lead_kv lead_133_kv "
        "provenance",
        each(
            P,
            (5, 25, None, None, 30, None),
            (15, 55, 65, 53, 65, 85),
            (25, 80, 100, 78, 105, 135),
            (28, 85, None, 78, 115, None),
            (35, 100, None, None, 145, None),
        ),
    ),
    # Guide specification (shield), guideline (15 min), IEC 60229 from memory,
    # 30 and 60 minutes common practice, 15 from memory.
    "cable_other": (
        "value unit provenance",
        [
            (10, "Ohm/1000 ft", P),
            (15, "min", P),
            (4, "kV/mm", M),
            (10, "kV", M),
            (30, "min", C),
            (60, "min", C),
            (15, "min", M),
        ],
    ),
    # IEEE 400.2-2013, thousandths: from memory.
    "cable_dissipation": (
        "stability_low stability_high tip_up_low tip_up_high mean_low mean_high "
        "provenance",
        each(M, (0.1, 0.5, 5, 80, 4, 50), (0.1, 1.3, 5, 100, 35, 120)),
    ),
    # IEEE 142 and NEC in a forum thread, NAVFAC MO-322; NETA from memory.
    "ground_limits": (
        "at_most_ohm provenance",
        [(5, P), (1, P), (3, P), (10, P), (25, P), (1, P), (5, M), (1, M)],
    ),
    # A discussion of the NETA value.
    "ground_point_to_point": ("investigate_above_ohm provenance", [(0.5, P)]),
    # 4 times: IEEE 43 and 95 from memory; 20 V: an article quoting IEEE 43.
    "discharge": ("value unit provenance", [(4, "1", M), (20, "V", P)]),
}
