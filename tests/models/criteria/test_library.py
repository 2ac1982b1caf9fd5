"""The tables as people read, search and apply them."""

import pytest

from models.criteria import library
from models.criteria.loader import read_table_file, table_files
from models.criteria.views import Cell, view
from models.errors import InputError, NotFoundError
from models.judging import Criteria
from models.procedures import PROCEDURES, Subject, compile_rule
from models.procedures.procedure import GEARS


def cell(key: str, row: str, column: str) -> Cell:
    table = library.table(key)
    at = [one.name for one in table.columns].index(column)
    found = next(one for one in table.rows if one.name == row).cells[at]
    assert found is not None
    return found


def test_every_file_is_in_the_library() -> None:
    assert {one.key for one in library.tables()} == set(table_files())


def test_tables_stand_by_title() -> None:
    titles = [one.title.casefold() for one in library.tables()]
    assert titles == sorted(titles)
    assert len(set(titles)) == len(titles)


def test_a_table_that_is_not_there_is_named() -> None:
    with pytest.raises(NotFoundError, match="no criteria table made_up"):
        library.table("made_up")


def test_a_table_says_document_edition_columns_and_units() -> None:
    table = library.table("insulation_minimum")
    assert table.cited_as() == "ANSI/NETA MTS (2019), Table 100.1"
    assert table.reference_c == 20.0
    assert table.supersedes == "insulation_minimum_older"
    assert [(c.label, c.unit, c.identifies) for c in table.columns] == [
        ("Voltage class", "kV", True),
        ("Least test voltage, dc", "kV", False),
        ("Minimum", "MΩ", False),
    ]
    assert library.table("insulation_minimum_older").superseded_by == table.key


def test_a_table_without_edition_and_place_is_cited_by_its_document() -> None:
    assert (
        library.table("relay_tolerance").cited_as()
        == "Common practice for relay timing"
    )


CELLS = {
    "a figure": (
        ("insulation_minimum", "15 kV class", "minimum"),
        ("5000", "MΩ", "published", ""),
    ),
    "a figure below zero": (
        ("sf6_saturation", "-50 degC", "temperature_c"),
        ("−50", "°C", "computed", ""),
    ),
    "a word": (("metals", "copper", "metal"), ("copper", "", "published", "")),
    "a figure of another's word": (
        ("insulation_correction_20", "0 degC", "oil"),
        ("0.25", "", "published", ""),
    ),
    "a doubted figure": (
        ("rated_metal_clad", "metal-clad, 4.76 kV", "dc_kv"),
        ("27", "kV", "memory", "the copy of the handbook reads 21"),
    ),
    "the unit of its row": (
        ("sf6_moisture", "partial pressure of water", "value"),
        ("400", "Pa", "published", ""),
    ),
}


@pytest.mark.parametrize(("place", "said"), CELLS.values(), ids=CELLS)
def test_a_cell_says(
    place: tuple[str, str, str], said: tuple[str, str, str, str]
) -> None:
    found = cell(*place)
    assert (found.text, found.unit, found.provenance, found.doubtful) == said


def test_a_switch_is_said_yes_or_no() -> None:
    head = dict.fromkeys(
        ("title", "document", "edition", "table", "quantity"), "made up"
    )
    rows = [
        {"row": word, "shown": word == "yes", "provenance": "practice", "source": "a"}
        for word in ("yes", "no")
    ]
    data = head | {
        "key": "made_up",
        "unit": "1",
        "note": "Made up.",
        "default": True,
        "applies_to": ["bus"],
        "column": {"shown": {"label": "Shown", "kind": "yes"}},
        "row": rows,
    }
    table = view(read_table_file("made_up.toml", data))
    assert [row.cells[0] and row.cells[0].text for row in table.rows] == ["yes", "no"]
    # Rows without a number are a statement each.
    assert table.counts == {"practice": 2}


def test_what_is_not_printed_has_no_cell() -> None:
    table = library.table("field_metal_clad")
    last = table.rows[-1]
    assert last.name == "metal-clad, 38 kV"
    assert last.cells[2] is None


COUNTS = {
    # ten rows, a test voltage and a minimum each
    "insulation_minimum": {"published": 20},
    # 25 rows: fifteen of each column published; 4 of oil and 9 of solid worked out
    "insulation_correction_20": {"published": 30, "memory": 7, "computed": 13},
    # five rows of two, and three dc figures, two of them recalled
    "rated_metal_clad": {"published": 11, "memory": 2},
    "withstand_dc_full": {"computed": 4},
    "contact_new_pole": {"practice": 6},
}


@pytest.mark.parametrize(("key", "counts"), COUNTS.items(), ids=COUNTS)
def test_figures_are_counted_by_provenance(key: str, counts: dict[str, int]) -> None:
    assert library.table(key).counts == counts


FOUND = {
    "a title": ("moisture sf6", "sf6_moisture", None),
    "capitals and a part of a word": ("TORQ STEEL", "bolt_torque_steel", None),
    "a figure of a row": (
        "interrupter 15.5 37",
        "field_enclosed",
        "metal-enclosed interrupter, 15.5 kV",
    ),
    "a document": ("ICEA", "cable_dc", None),
    "a doubt": ("misprint", "relay_curves_us", "U1 moderately inverse"),
    "a row": ("copper 234.5", "metals", "copper"),
}


@pytest.mark.parametrize(("words", "key", "row"), FOUND.values(), ids=FOUND)
def test_words_are_found(words: str, key: str, row: str | None) -> None:
    hits = [
        (hit.table.key, hit.row.name if hit.row else None)
        for hit in library.find(words)
    ]
    assert (key, row) in hits


@pytest.mark.parametrize("words", ["", "   ", "?!", "zeppelin", "sf6 zeppelin"])
def test_nothing_is_found_for(words: str) -> None:
    assert library.find(words) == []


def test_a_figure_is_found_as_a_whole() -> None:
    """15 is not 150: the fill of 150 kPa is no hit for 15."""
    rows = [hit.row.name for hit in library.find("fill 15 sealed tank") if hit.row]
    assert "150 kPa" not in rows
    assert [
        hit.row.name
        for hit in library.find("9.151 sealed")
        if hit.row and hit.table.key == "sf6_fill"
    ] == ["150 kPa"]


def test_whole_tables_come_before_rows() -> None:
    kinds = [hit.row is None for hit in library.find("withstand")]
    assert kinds == sorted(kinds, reverse=True)
    assert True in kinds


def test_what_is_about_an_apparatus_has_the_defaults_first() -> None:
    found = library.about("cable")
    assert {"cable_vlf", "cable_dc", "insulation_minimum"} <= {t.key for t in found}
    defaults = [table.default for table in found]
    assert defaults == sorted(defaults, reverse=True)
    assert False in defaults
    assert library.about("boat") == []


# What would be required.


def procedures(gear: str, rated_kv: float, apparatus: str) -> list[str]:
    return [r.procedure for r in library.required(gear, rated_kv, apparatus)]


APPARATUS = {
    "bus": {"insulation_resistance", "contact_resistance", "dielectric_withstand"},
    "relay": {"relay_timing"},
    "ct": {"insulation_resistance"},
}


@pytest.mark.parametrize(("apparatus", "among"), APPARATUS.items(), ids=APPARATUS)
def test_an_apparatus_has_its_procedures(apparatus: str, among: set[str]) -> None:
    five = {
        "insulation_resistance",
        "contact_resistance",
        "dielectric_withstand",
        "vacuum_integrity",
        "relay_timing",
    }
    assert set(procedures("metal_clad", 15.0, apparatus)) & five == among


def limits(gear: str, rated_kv: float, apparatus: str, procedure: str) -> list[str]:
    found = library.required(gear, rated_kv, apparatus)
    one = next(r for r in found if r.procedure == procedure)
    return [limit.text for limit in one.limits]


# By hand from the tables: MTS-2019 100.1 and 100.2, C37.20.2 (0.75 of 36 kV).
REQUIRED = {
    "insulation of a 15 kV bus": (
        ("metal_clad", 15.0, "bus", "insulation_resistance"),
        ["at least 5.000 GΩ"],
    ),
    "poles of a switch": (
        ("metal_enclosed", 15.0, "switch", "contact_resistance"),
        ["at most 1.5 times the lowest of its group"],
    ),
    "withstand of 8.25 kV interrupter gear": (
        ("metal_enclosed", 8.25, "bus", "dielectric_withstand"),
        ["ac: holds 19 kV for 60 s; not more than 5 % above it"],
    ),
    "withstand of 8.25 kV metal-clad gear": (
        ("metal_clad", 8.25, "bus", "dielectric_withstand"),
        [
            "ac: holds 27 kV for 60 s; not more than 5 % above it",
            "dc: holds 37.5 kV for 60 s; not more than 5 % above it",
        ],
    ),
    "vacuum of a 15 kV breaker": (
        ("metal_clad", 15.0, "breaker", "vacuum_integrity"),
        [
            "ac: holds 27 kV for 60 s; not more than 5 % above it",
            "magnetron: at most 0.01000 Pa",
        ],
    ),
    "withstand of gas-insulated gear": (
        ("gas_insulated", 15.0, "bus", "dielectric_withstand"),
        [],
    ),
}


@pytest.mark.parametrize(("place", "said"), REQUIRED.values(), ids=REQUIRED)
def test_what_would_be_required(
    place: tuple[str, float, str, str], said: list[str]
) -> None:
    assert limits(*place) == said


def test_a_requirement_says_conditions_correction_and_what_is_missing() -> None:
    found = {r.procedure: r for r in library.required("metal_clad", 15.0, "breaker")}
    insulation = found["insulation_resistance"]
    assert insulation.conditions == (
        "temperature known",
        "test voltage at least 2.5 kV",
    )
    assert insulation.correction == "corrected to 20 °C: solid insulation"
    assert insulation.missing == ()
    vacuum = found["vacuum_integrity"]
    assert vacuum.correction == ""
    assert vacuum.missing[0].startswith("dc: A dc test across a vacuum gap")
    relay = {r.procedure: r for r in library.required("metal_clad", 15.0, "relay")}
    timing = relay["relay_timing"]
    assert timing.limits == ()
    assert any("curve is not known" in one for one in timing.missing)


def test_a_limit_leads_to_its_table() -> None:
    """Three tables are named Table 100.2: the row tells which."""
    found = {r.procedure: r for r in library.required("metal_clad", 15.0, "bus")}
    withstand = found["dielectric_withstand"].limits[0].source
    assert withstand.key == "field_metal_clad"
    assert withstand.words.startswith("ANSI/NETA MTS (2019), Table 100.2, metal-clad")
    keys = [source.key for source in found["insulation_resistance"].sources]
    assert keys[:2] == ["insulation_minimum", "insulation_correction_20"]
    assert set(keys[2:]) == {
        None,  # the guide on conformity is no table
        "insulation_cautions",
        "dew_point",
        "polarization_bands",
        "polarization_limits",
    }


@pytest.mark.parametrize("gear", GEARS)
def test_the_rule_is_the_one_that_judges(gear: str, criteria: Criteria) -> None:
    for one in library.required(gear, 15.0, "breaker"):
        subject = Subject(gear=gear, rated_kv=15.0)
        assert one.rule == compile_rule(one.procedure, subject, criteria)
        assert one.title == PROCEDURES[one.procedure].title


REFUSED = {
    "gear": (("wooden", 15.0, "bus"), "gear"),
    "a rating of nought": (("metal_clad", 0.0, "bus"), "rated_kv"),
    "a rating without end": (("metal_clad", float("inf"), "bus"), "rated_kv"),
    "no number": (("metal_clad", float("nan"), "bus"), "rated_kv"),
    "an apparatus": (("metal_clad", 15.0, "boat"), "apparatus"),
}


@pytest.mark.parametrize(("asked", "field"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused(asked: tuple[str, float, str], field: str) -> None:
    with pytest.raises(InputError) as raised:
        library.required(*asked)
    assert [fault.field for fault in raised.value.faults] == [field]


def test_every_fault_of_a_question_is_said() -> None:
    with pytest.raises(InputError) as raised:
        library.required("wooden", -1.0, "boat")
    assert [f.field for f in raised.value.faults] == ["gear", "rated_kv", "apparatus"]
