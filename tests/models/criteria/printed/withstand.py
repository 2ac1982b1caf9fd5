"""Withstand voltages and altitude: the pages written a second time."""

from tests.models.criteria.printed.shapes import M, P, Printed, X, each

TABLES: Printed = {
    # Older print of Table 100.2: from memory.
    "field_metal_clad_older": (
        "rated_kv dc_kv provenance",
        each(M, (8.25, 37), (15, 37)),
    ),
    # MTS-2019 Table 100.2, posted copy.
    "field_station": (
        "rated_kv ac_kv provenance",
        each(P, (15.5, 37), (38, 60), (72.5, 120)),
    ),
    "field_low_voltage": (
        "rated_kv ac_kv dc_kv provenance",
        each(P, (0.635, 1.6, 2.3), (1.058, 2.2, 3.1)),
    ),
    # The same table in a damaged copy: stress cones, then IEEE 386.
    "field_enclosed_two_columns": (
        "cone_rated_kv separable_rated_kv cone_ac_kv separable_ac_kv provenance",
        each(
            P,
            (4.76, 4.76, 14, 14),
            (8.25, 8.25, 19, 19),
            (15, 14.4, 27, 25),
            (27, 26.3, 45, 30),
            (38, 36.6, 60, 37),
        ),
    ),
    # Prints of 2009 and 2013, dc from memory; ac worked out, 0.75 of the rated level.
    "field_enclosed_older": (
        "rated_kv ac_kv ac_kv_provenance dc_kv provenance",
        [
            (4.76, 14, X, 20, M),
            (8.25, 19, X, 27, M),
            (15, 27, X, 37, M),
            (15.5, 37, X, 52, M),
            (25.8, 45, None, None, X),
            (38, 60, None, None, X),
        ],
    ),
    # A power engineering handbook, Table 14.2. Its dc column reads 21, 31 and 10
    # for 27, 37 and 70, and its rating 25.8 is garbled: those are from memory.
    "rated_enclosed": (
        "rated_kv withstand_kv impulse_kv dc_kv dc_kv_provenance provenance",
        each(
            P,
            (4.76, 19, 60, 27, M),
            (8.25, 26, 75, 37, M),
            (15, 36, 95, 50, None),
            (15.5, 50, 110, 70, M),
            (25.8, 60, 125, None, None),
            (38, 80, 150, None, None),
        ),
    ),
    "rated_station": (
        "rated_kv withstand_kv impulse_kv dc_kv dc_kv_provenance provenance",
        each(P, (15.5, 50, 110, 70, M), (72.5, 160, 350, None, None)),
    ),
    # ANSI C37.06, outdoor breakers: from memory.
    "rated_outdoor_breaker": (
        "rated_kv withstand_kv impulse_kv provenance",
        each(M, (15.5, 50, 110), (25.8, 60, 150), (38, 80, 200), (72.5, 160, 350)),
    ),
    # C37.20.9: from memory, with low confidence.
    "rated_gas_insulated": (
        "levels rated_kv withstand_kv impulse_kv provenance",
        each(
            M,
            ("general", 4.76, 19, 60),
            ("general", 8.25, 36, 95),
            ("general", 15, 36, 95),
            ("general", 15.5, 36, 95),
            ("general", 27, 60, 125),
            ("general", 38, 80, 150),
            ("switches only", 8.25, 26, 75),
            ("higher", 15.5, 50, 110),
            ("IEC style", 36, 70, 150),
        ),
    ),
    # IEC 62271-1: from memory.
    "rated_iec": (
        "rated_kv withstand_kv withstand_high_kv impulse_kv impulse_high_kv provenance",
        each(
            M,
            (3.6, 10, None, 20, 40),
            (7.2, 20, None, 40, 60),
            (12, 28, None, 60, 75),
            (17.5, 38, None, 75, 95),
            (24, 50, None, 95, 125),
            (36, 70, None, 145, 170),
            (40.5, 80, 95, 185, None),
        ),
    ),
    # IEC 62271-200: a maker's instructions for gas-insulated gear.
    "withstand_field_fraction_iec": ("fraction provenance", [(0.8, P)]),
    "withstand_field_worked": (
        "withstand_kv ac_kv provenance",
        each(X, (19, 14.25), (26, 19.5), (36, 27), (50, 37.5), (60, 45), (80, 60)),
    ),
    "withstand_dc_full": (
        "full_dc_kv dc_kv provenance",
        each(X, (27, 20), (37, 27.75), (50, 37.5), (70, 52.5)),
    ),
    # An installation manual, page 23.
    "withstand_dc_peak": (
        "ac_kv dc_kv provenance",
        each(P, (37.5, 53), (45, 64), (60, 85)),
    ),
    # Two instruction sheets: already about 80 % of design.
    "field_gas_insulated_printed": (
        "rated_kv ac_kv dc_kv impulse_kv provenance",
        each(P, (15.5, 27, 42, 95), (27, 40, 62, 125), (38, 50, 82, 150)),
    ),
    # Instruction sheets (10 s; steps of a minute); IEEE rule for machines.
    "withstand_conduct": (
        "value unit provenance",
        each(P, (10, "s"), (60, "s"), (1.7, "1"), (None, "1"), (None, "1")),
    ),
    # NETA Table 100.19: from memory.
    "withstand_apparatus": (
        "nominal_kv class_kv factory_kv ac_kv dc_kv provenance",
        each(
            M,
            (1.2, 1.2, 10, 6, 8.5),
            (2.4, 2.5, 15, 9, 12.7),
            (4.8, 5, 19, 11.4, 16.1),
            (8.3, 8.7, 26, 15.6, 22.1),
            (14.4, 15, 34, 20.4, 28.8),
            (18, 18, 40, 24, 33.9),
            (25, 25, 50, 30, 42.4),
            (34.5, 35, 70, 42, 59.4),
            (46, 46, 95, 57, 80.6),
            (69, 69, 140, 84, 118.8),
        ),
    ),
    # IEEE C57.13-2016 Table 2, single page.
    "instrument_transformer_levels": (
        "nominal_kv maximum_kv impulse_kv withstand_kv provenance",
        each(
            P,
            (0.6, 0.66, 10, 4),
            (1.2, 1.2, 30, 10),
            (2.4, 2.75, 45, 15),
            (5, 5.6, 60, 19),
            (8.7, 9.52, 75, 26),
            (15, 15.5, 95, 34),
            (15, 15.5, 110, 34),
            (25, 25.5, 125, 40),
            (25, 25.5, 150, 50),
            (34.5, 36.5, 200, 70),
            (46, 48.3, 250, 95),
            (69, 72.5, 350, 140),
        ),
    ),
    # C57.13-2016, Table 2: nominal and impulse; that NETA Table 100.9 is so: memory.
    "field_instrument_transformers": (
        "nominal_kv impulse_kv ac_kv dc_kv provenance",
        each(
            P,
            (0.6, 10, 3, 4),
            (1.2, 30, 7.5, 10),
            (2.4, 45, 11.25, 15),
            (5, 60, 14.25, 19),
            (8.7, 75, 19.5, 26),
            (15, 95, 25.5, 34),
            (15, 110, 25.5, 34),
            (25, 125, 30, 40),
            (25, 150, 37.5, 50),
            (34.5, 200, 52.5, 70),
            (46, 250, 71.25, 95),
            (69, 350, 105, 140),
        ),
    ),
    # IEEE C37.20.2: from memory.
    "altitude_c37": (
        "altitude_m voltage current provenance",
        each(M, (1000, 1, 1), (1500, 0.95, 0.99), (3000, 0.8, 0.96)),
    ),
    # A note on altitude gives the formula of IEC 62271-1.
    "altitude_iec": (
        "altitude_m left provenance",
        each(X, (1500, 0.940), (2000, 0.885), (3000, 0.782), (4000, 0.692)),
    ),
    # A page on load switches.
    "altitude_air_gap": ("altitude_m left provenance", [(2000, 0.8, P)]),
    # The note on altitude; 1000 m: an extract of C37.100.1-2018.
    "altitude_exponents": (
        "value unit provenance",
        each(
            P,
            (1, "1"),
            (0.9, "1"),
            (0.75, "1"),
            (8150, "m"),
            (1000, "m"),
            (0, "m"),
            (1000, "m"),
        ),
    ),
}
