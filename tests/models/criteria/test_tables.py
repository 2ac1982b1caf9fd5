"""Each criteria table, written a second time by hand from its printed page.

A slip of the finger in a TOML file would be a wrong limit on every report, so the
numbers stand here once more. Where the page could not be read the source says
"from memory": then this is a check against a slip, and nothing else.
"""

from importlib.resources import files

import pytest

from models.criteria import library
from models.criteria.loader import table_files
from models.criteria.table_file import NUMBER, of_value
from models.judging import Criteria
from tests.models.criteria.printed import (
    breakers,
    cables_ground,
    contacts,
    gas,
    insulation,
    ratings,
    relays,
    suggested,
    transformers,
    withstand,
)
from tests.models.criteria.printed.shapes import C, M, P, Printed, Rows, X


def columns(criteria: Criteria, key: str, *names: str) -> list[tuple[object, ...]]:
    """Return the table's rows as tuples; None where a row lacks the column."""
    rows = criteria.table(key).rows
    return [tuple(row.get(name) for name in names) for row in rows]


# ANSI/NETA MTS-2019, Table 100.1, posted copy. The copy prints the rating of the
# last but one row as 34 000 V; 34 500 V is from memory.
MINIMUM_2019: Rows = [
    # class kV, test kV dc, minimum MOhm at 20 degC
    (0.25, 0.5, 25, P),
    (0.6, 1, 100, P),
    (1, 1, 100, P),
    (2.5, 1, 500, P),
    (5, 2.5, 1500, P),
    (8, 2.5, 2500, P),
    (15, 2.5, 5000, P),
    (25, 5, 10_000, P),
    (34.5, 5, 100_000, P),
    (46, 5, 100_000, P),
]

# An article of 2012 that quotes NETA MTS-1997, Table 10.1: 250 V, 600 V, 5, 8, 15, 25,
# 35, 46 and 69 kV. The rows of 1 and 2.5 kV, and that ATS 2003 to 2009 agrees, are
# from memory.
MINIMUM_OLDER: Rows = [
    (0.25, 0.5, 25, P),
    (0.6, 1, 100, P),
    (1, 1, 100, M),
    (2.5, 1, 500, M),
    (5, 2.5, 1000, P),
    (8, 2.5, 2000, P),
    (15, 2.5, 5000, P),
    (25, 5, 20_000, P),
    (34.5, 15, 100_000, P),
    (46, 15, 100_000, P),
]

# ANSI/NETA Table 100.14.1. From 0 to 75 degC an older insulation testers' table:
# its oil-filled transformers, and its rotating equipment of class B. It has no row of
# 15 degC but one of 60 degF, 0.74 and 0.81. X: doubled from what it prints; all else
# from memory.
CORRECTION: Rows = [
    # degC, oil, its provenance, solid, its provenance
    (-10, 0.125, X, 0.25, X),
    (-5, 0.18, X, 0.32, X),
    (0, 0.25, P, 0.40, P),
    (5, 0.36, P, 0.50, P),
    (10, 0.50, P, 0.63, P),
    (15, 0.75, M, 0.81, M),
    (20, 1.00, P, 1.00, P),
    (25, 1.40, P, 1.25, P),
    (30, 1.98, P, 1.58, P),
    (35, 2.80, P, 2.00, P),
    (40, 3.95, P, 2.50, P),
    (45, 5.60, P, 3.15, P),
    (50, 7.85, P, 3.98, P),
    (55, 11.20, P, 5.00, P),
    (60, 15.85, P, 6.30, P),
    (65, 22.40, P, 7.90, P),
    (70, 31.75, P, 10.00, P),
    (75, 44.70, P, 12.60, P),
    (80, 63.50, X, 15.80, X),
    (85, 89.789, M, 20.00, X),
    (90, 127.00, X, 25.20, X),
    (95, 180.00, M, 31.60, X),
    (100, 245.00, M, 40.00, X),
    (105, 359.15, M, 50.40, X),
    (110, 509.00, M, 63.20, X),
]

# ANSI/NETA MTS-2019, Table 100.2, metal-clad rows, posted copy; above 15 kV the
# table's dc column sends to the maker.
FIELD_METAL_CLAD: Rows = [
    # rated kV, ac kV, dc kV
    (4.76, 14, 20, P),
    (8.25, 27, 37.5, P),
    (15, 27, 37.5, P),
    (27, 45, None, P),
    (38, 60, None, P),
]

# The same table, metal-enclosed interrupter switchgear with stress-cone
# terminations, from a damaged copy; 15.5 and 25.8 kV worked out, 0.75 of rated levels.
FIELD_ENCLOSED: Rows = [
    (4.76, 14, None, P),
    (8.25, 19, None, P),
    (15, 27, None, P),
    (15.5, 37, None, X),
    (25.8, 45, None, X),
    (27, 45, None, P),
    (38, 60, None, P),
]

# IEEE C37.20.2 levels as a public handbook prints them; 27 kV: a trade note. The dc
# column reads 21 for 27; that and 50 kV at 15 kV are from memory.
RATED_METAL_CLAD: Rows = [
    # rated kV, power-frequency withstand kV, impulse kV, dc kV, its provenance
    (4.76, 19, 60, 27, M, P),
    (8.25, 36, 95, 50, None, P),
    (15, 36, 95, 50, M, P),
    (27, 60, 125, None, None, P),
    (38, 80, 150, None, None, P),
]

# IEEE C37.112 trip constants (three public relay manuals) and IEC 60255-151 k and
# alpha (two public relay manuals).
CURVES: Rows = [
    ("ieee_moderately_inverse", "inverse", 0.0515, 0.1140, 0.02, P),
    ("ieee_very_inverse", "inverse", 19.61, 0.491, 2, P),
    ("ieee_extremely_inverse", "inverse", 28.2, 0.1217, 2, P),
    ("iec_standard_inverse", "inverse", 0.14, 0, 0.02, P),
    ("iec_very_inverse", "inverse", 13.5, 0, 1, P),
    ("iec_extremely_inverse", "inverse", 80, 0, 2, P),
    ("iec_long_time_inverse", "inverse", 120, 0, 1, P),
    ("definite_time", "definite", 0, 0, 0, C),
]

MINIMUM_COLUMNS = "class_kv test_kv minimum provenance"
FIELD_COLUMNS = "rated_kv ac_kv dc_kv provenance"

JUDGED_BY: Printed = {
    "insulation_minimum": (MINIMUM_COLUMNS, MINIMUM_2019),
    "insulation_minimum_older": (MINIMUM_COLUMNS, MINIMUM_OLDER),
    "insulation_correction_20": (
        "temperature_c oil oil_provenance solid solid_provenance",
        CORRECTION,
    ),
    "field_metal_clad": (FIELD_COLUMNS, FIELD_METAL_CLAD),
    "field_enclosed": (FIELD_COLUMNS, FIELD_ENCLOSED),
    "rated_metal_clad": (
        "rated_kv withstand_kv impulse_kv dc_kv dc_kv_provenance provenance",
        RATED_METAL_CLAD,
    ),
    "relay_curves": ("curve form a b p provenance", CURVES),
    # Common practice: makers state 2 to 5 % and 20 to 60 ms.
    "relay_tolerance": ("tolerance_pct tolerance_s provenance", [(5, 0.035, C)]),
    # ATS-2009 7.3.2, bolted joints: above the lowest of similar ones by more than
    # 50 %; a public owner's specification says the same of switch poles.
    "contact_spread": ("times provenance", [(1.5, P)]),
    # ANSI C37.09 as quoted in a micro-ohmmeter maker's note: 100 A dc.
    "contact_test_current": ("at_least_a provenance", [(100, P)]),
    # Copper 234.5 (IEC 60028; a published article); aluminium 228.1 of a package,
    # published articles print 228.
    "metals": (
        "metal k provenance",
        [("copper", 234.5, P), ("aluminium", 228.1, P)],
    ),
    # From memory; published articles put the loss of interruption at 1e-2 to 1e-1 Pa.
    "vacuum_pressure": ("limit_pa provenance", [(1e-2, M)]),
    # A public handbook and an installation manual: 37.5/50, 45/60, 60/80 kV.
    "withstand_field_fraction": ("fraction provenance", [(0.75, P)]),
}
PAGES = (
    JUDGED_BY,
    insulation.TABLES,
    withstand.TABLES,
    contacts.TABLES,
    gas.TABLES,
    cables_ground.TABLES,
    breakers.TABLES,
    relays.TABLES,
    transformers.TABLES,
    ratings.TABLES,
    suggested.TABLES,
)
TABLES = {key: printed for page in PAGES for key, printed in page.items()}


@pytest.mark.parametrize("key", TABLES)
def test_a_table_says_what_is_printed(criteria: Criteria, key: str) -> None:
    names, printed = TABLES[key]
    assert columns(criteria, key, *names.split()) == list(printed)


def test_no_table_is_written_twice_among_the_pages() -> None:
    assert sum(map(len, PAGES)) == len(TABLES)


@pytest.mark.parametrize("key", TABLES)
def test_the_second_writing_has_every_column_of_numbers(key: str) -> None:
    numbers = {c.name for c in table_files()[key].columns if c.kind == NUMBER}
    assert numbers <= set(TABLES[key][0].split())


def test_no_table_is_without_its_second_writing(criteria: Criteria) -> None:
    assert set(criteria.tables) == set(TABLES)


def test_every_value_names_its_source_and_provenance() -> None:
    for table_file in table_files().values():
        for row in table_file.rows:
            for column in table_file.columns:
                place = (table_file.key, row["row"], column.name)
                assert of_value(row, column.name, "source").strip(), place
                provenance = of_value(row, column.name, "provenance")
                assert provenance in (P, M, C, X, suggested.S), place


def test_a_value_from_memory_says_so_in_its_source() -> None:
    for table_file in table_files().values():
        for row in table_file.rows:
            for name in ("", *(column.name for column in table_file.columns)):
                if of_value(row, name, "provenance") == M:
                    source = of_value(row, name, "source")
                    assert "from memory" in source, (table_file.key, row["row"], name)


# What could not be read for certain, or what other prints contradict: the tables,
# with how many of their figures are doubted. Written from the same pages.
DOUBTED = {
    "altitude_air_gap": 1,  # rough, against 0.885
    "bolt_torque_steel": 1,  # SAE 8 at 5/16 in breaks the ratio of the others
    "cable_vlf": 24,  # rows of 20, 25, 28 and 30 kV put together again
    "control_voltage": 1,  # 36 or 38 V at 48 V dc
    "field_enclosed": 2,  # 15 kV: a digit lost; 27 kV: its rating
    "field_enclosed_two_columns": 4,  # 27, 14.4, 27.0 and 37 of the copy
    "field_metal_clad_older": 2,  # 37 against 37.5 and 38
    "insulation_correction_20": 2,  # 15 degC, printed at 15.6
    "insulation_minimum": 2,  # the row of 34.5 kV, printed as 34 000 V
    "insulation_minimum_older": 2,  # the same row, printed as 35 kV
    "metals": 1,  # aluminium
    "pole_spread_prints": 3,  # the article
    "rated_enclosed": 4,  # three dc figures, one rating
    "rated_gas_insulated": 18,  # all
    "rated_iec": 3,  # 40.5 kV: two power-frequency figures and one impulse
    "rated_metal_clad": 3,  # 4.76 printed as 4.16, its dc as 21
    "rated_station": 1,  # one dc figure
    "relay_curves_us": 1,  # the misprint 0.2256
    "sf6_equation": 4,  # R 56.2 and the variant of A0, each with its error
    "sf6_purity": 2,  # scrambled page
    "undervoltage_release": 3,  # 70 against 60
}


def test_what_is_doubtful_is_known() -> None:
    found = {table.key: len(table.doubts()) for table in library.tables()}
    assert {key: count for key, count in found.items() if count} == DOUBTED


def test_editions_of_one_thing_have_one_default() -> None:
    """The editions that records may be made under, and which is the usual one."""
    usual = {t.key: t.default for t in library.tables() if t.sibling or t.superseded_by}
    assert usual["insulation_minimum"] and not usual["insulation_minimum_older"]
    assert usual["field_enclosed"] and not usual["field_enclosed_two_columns"]
    assert not usual["field_enclosed_older"]
    assert usual["control_voltage"] and not usual["control_voltage_iec"]


def test_every_file_of_the_folder_is_loaded(criteria: Criteria) -> None:
    folder = files("models.criteria").joinpath("tables")
    names = {f.name for f in folder.iterdir() if f.name.endswith(".toml")}
    assert names == {f"{key}.toml" for key in criteria.tables}


# What the pages themselves imply of each other.


def test_the_oil_column_doubles_every_ten_degrees(criteria: Criteria) -> None:
    """K = 10^(0.03 (T - 20)) within 1.6 %, but for the two rows that depart.

    15 and 100 degC differ in print as well, by 5.9 and 2.5 %.
    """
    for celsius, oil in columns(
        criteria, "insulation_correction_20", "temperature_c", "oil"
    ):
        assert isinstance(celsius, float)
        allowed = {15.0: 0.06, 100.0: 0.026}.get(celsius, 0.016)
        assert oil == pytest.approx(10 ** (0.03 * (celsius - 20)), rel=allowed)


def test_the_solid_column_doubles_every_fifteen_degrees(criteria: Criteria) -> None:
    """K = 10^(0.02 (T - 20)) within 1.2 %, but for 15 degC (2 %)."""
    for celsius, solid in columns(
        criteria, "insulation_correction_20", "temperature_c", "solid"
    ):
        assert isinstance(celsius, float)
        allowed = {15.0: 0.021}.get(celsius, 0.012)
        assert solid == pytest.approx(10 ** (0.02 * (celsius - 20)), rel=allowed)


def test_a_published_field_level_is_three_quarters_of_the_rated_one(
    criteria: Criteria,
) -> None:
    """Within half a kilovolt, the rounding of the printed table."""
    rated = dict(columns(criteria, "rated_metal_clad", "rated_kv", "withstand_kv"))
    for rating, ac_kv in columns(criteria, "field_metal_clad", "rated_kv", "ac_kv"):
        withstand = rated[rating]
        assert isinstance(withstand, float)
        assert ac_kv == pytest.approx(0.75 * withstand, abs=0.5)
