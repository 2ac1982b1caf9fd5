"""Instrument transformers: the pages written a second time."""

from tests.models.criteria.printed.shapes import C, M, P, Printed, X, each

TABLES: Printed = {
    # C57.13 Tables 6, 8 and 9: VT; CT at 100, 10 and 5 %.
    "ct_vt_metering": (
        "accuracy_class vt_low vt_high ct_100_low ct_100_high ct_10_low ct_10_high "
        "ct_5_low ct_5_high provenance",
        each(
            P,
            ("0.15", 0.9985, 1.0015, 0.9985, 1.0015, None, None, 0.997, 1.003),
            ("0.15S", 0.9985, 1.0015, 0.9985, 1.0015, None, None, 0.9985, 1.0015),
            ("0.3", 0.997, 1.003, 0.997, 1.003, 0.994, 1.006, None, None),
            ("0.6", 0.994, 1.006, 0.994, 1.006, 0.988, 1.012, None, None),
            ("1.2", 0.988, 1.012, 0.988, 1.012, 0.976, 1.024, None, None),
        ),
    ),
    # C100 and C800 on public pages, the others worked out.
    "ct_relaying": (
        "accuracy_class terminal_v burden_ohm burden_va provenance",
        [
            ("C100", 100, 1, 25, P),
            ("C200", 200, 2, 50, X),
            ("C400", 400, 4, 100, X),
            ("C800", 800, 8, 200, P),
        ],
    ),
    # The factor is the definition of a C class (20 x 5 A); the forms are from memory.
    "ct_saturation": ("factor provenance", [(20, M), (20, M), (None, M)]),
    # A page on burdens; the last: a published IEEE interpretation.
    "ct_burdens": (
        "designation burden_va burden_ohm provenance",
        each(
            P,
            ("B-0.1", 2.5, 0.1),
            ("B-0.2", 5, 0.2),
            ("B-0.5", 12.5, 0.5),
            ("B-0.9", 22.5, 0.9),
            ("B-1.8", 45, 1.8),
            ("B-2.0", 50, 50),
        ),
    ),
    # IEC 61869-2 on a public page: 5, 20, 100 and 120 % of rated current.
    "ct_measuring_iec": (
        "accuracy_class ratio_5_pct phase_5_arcmin ratio_20_pct phase_20_arcmin "
        "ratio_100_pct phase_100_arcmin ratio_120_pct phase_120_arcmin provenance",
        each(
            P,
            ("0.1", 0.4, 15, 0.20, 8, 0.1, 5, 0.1, 5),
            ("0.2", 0.75, 30, 0.35, 15, 0.2, 10, 0.2, 10),
            ("0.5", 1.5, 90, 0.75, 45, 0.5, 30, 0.5, 30),
            ("1", 3.0, 180, 1.5, 90, 1.0, 60, 1.0, 60),
            ("3", None, None, None, None, 3, None, 3, None),
            ("5", None, None, None, None, 5, None, 5, None),
        ),
    ),
    "ct_protection_iec": (
        "accuracy_class ratio_pct phase_arcmin composite_pct provenance",
        each(P, ("5P", 1, 60, 5), ("10P", 3, None, 10)),
    ),
    # IEC 61869-3 in an instrument maker's manual.
    "vt_iec": (
        "accuracy_class ratio_pct phase_arcmin provenance",
        each(
            P,
            ("0.1", 0.1, 5),
            ("0.2", 0.2, 10),
            ("0.5", 0.5, 20),
            ("1", 1, 40),
            ("3", 3, None),
            ("3P", 3, 120),
            ("6P", 6, 240),
        ),
    ),
    # MTS-2007 section 7.10; the others from memory.
    "instrument_transformer_field": (
        "value to_value unit provenance",
        [
            (1000, None, "V", P),
            (0.5, 1, "%", M),
            (None, 0.5, "%", M),
            (None, 25, "%", M),
        ],
    ),
    # IEC 60050-321-02-34, C57.13 6.10.2, an application manual (80 %).
    "knee_definitions": (
        "value unit provenance",
        each(P, (10, "%"), (50, "%"), (45, "1"), (30, "1"), (80, "%")),
    ),
    # Trade practice and a figure from memory, a second time: programme of tests, 2.4.
    "series_needs": (
        "value unit provenance",
        [(8, "1", C), (2, "1", C), (10, "%", C), (10, "%", M), (1, "%", C)],
    ),
}
