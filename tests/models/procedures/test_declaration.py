"""Declared procedures: what is read, what is refused and where, what is compiled."""

from pathlib import Path
from typing import Any

import pytest

from models.criteria import load
from models.criteria.loader import table_files
from models.criteria.preconditions import load_preconditions
from models.criteria.procedure_faults import procedure_faults
from models.errors import CriteriaError
from models.judging import Criteria, Table
from models.procedures import Subject
from models.procedures.declaration import Declaration, parse_declaration
from models.procedures.given import Given

STAB = (Path(__file__).parents[2] / "data/stab_resistance.toml").read_text("utf-8")
ROWS = (
    {"row": "low", "rated_kv": 5.0, "volts": 90.0, "spread_pct": 15.0},
    {"row": "high", "rated_kv": 15.0, "volts": 105.0, "spread_pct": 25.0},
)
MADE_UP = Table(
    key="made_up",
    document="Made up",
    edition="",
    table="",
    unit="V",
    rows=[{**row, "provenance": "practice"} for row in ROWS],
)


def declared(text: str = STAB) -> Declaration:
    return parse_declaration("stab_resistance.toml", text)


def rule(**fields: Any) -> dict[str, Any]:
    criteria = Criteria({"made_up": MADE_UP})
    return declared().compile_rule(Subject(**fields), criteria).to_json()


def bounds(**fields: Any) -> list[tuple[Any, ...]]:
    kept = {"high": "value", "high_of_lowest": "times"}
    return [
        (one["kind"], pytest.approx(one[kept[one["kind"]]]), one.get("when"))
        for one in rule(**fields)["bounds"]
    ]


def test_what_the_procedure_is() -> None:
    one = declared().procedure
    assert (one.title, one.units, one.default_unit) == (
        "Stab resistance",
        ("ms", "s"),
        "ms",
    )
    assert [ask["choices"] for ask in one.asks] == [["close", "open"], []]
    assert one.columns == {"limit": ("close_ms_max", "open_ms_max")}
    assert (one.worse, one.scale, one.compared) == ("away", "linear", True)


FOUND = {
    "nothing known": ({}, []),
    "the plate, by what the point fixes": (
        {"close_ms_max": 60.0, "open_ms_max": 30.0},
        [
            ("high", 0.060, {"operation": "close"}),
            ("high", 0.061, {"operation": "open"}),
        ],
    ),
    "half of the plate": (
        {"open_ms_max": 30.0},
        [("high", 0.061, {"operation": "open"})],
    ),
    "the column goes before the plate, under every condition": (
        {"limit": 55.0, "limit_unit": "ms", "close_ms_max": 60.0},
        [("high", 0.055, None)],
    ),
    "the project goes before both": (
        {
            "limit": 55.0,
            "limit_unit": "ms",
            "given": (
                Given(
                    quantity="latest",
                    value=0.05,
                    standing="project",
                    scope="lineup",
                    document="its paper",
                ),
            ),
        },
        [("high", 0.050, None)],
    ),
    "a row that matches": ({"rated_kv": 15.0}, [("high_of_lowest", 1.25, None)]),
    "no row that matches": ({"rated_kv": 12.0}, []),
}


@pytest.mark.parametrize(("fields", "wanted"), FOUND.values(), ids=FOUND)
def test_where_a_figure_comes_from(
    fields: dict[str, Any], wanted: list[tuple[Any, ...]]
) -> None:
    assert bounds(**fields) == wanted


def test_each_figure_has_its_source() -> None:
    made = rule(limit=55.0, limit_unit="ms", rated_kv=15.0)
    sources = [made["cite"][bound["cite"]]["document"] for bound in made["bounds"]]
    assert sources == ["Maker's data for this apparatus", "Made up"]


GATES = {"at the row": (5.0, 90.0), "between": (6.0, 105.0), "at the last": (15.0, 105)}


@pytest.mark.parametrize(("rated_kv", "volts"), GATES.values(), ids=GATES)
def test_the_smallest_row_not_below(rated_kv: float, volts: float) -> None:
    assert rule(rated_kv=rated_kv)["gates"] == [
        {
            "on": "control_v",
            "label": "voltage at the coil",
            "at_least": volts,
            "unit": "V",
            "reason": "The voltage is too low.",
        }
    ]


def test_the_figure_of_a_gate_has_its_source() -> None:
    assert [one["document"] for one in rule(rated_kv=6.0)["cite"]] == ["Made up"]


def test_no_row_that_is_not_below_makes_no_gate() -> None:
    assert rule(rated_kv=38.0)["gates"] == []


WARM = """
name = "stab_resistance"
title = "Stab resistance"
method = "Two sentences. About a made-up test."
on = { apparatus = ["breaker"], gears = ["metal_clad"] }
unit = { read = ["uOhm"], rule = "uOhm" }
asks = ["temperature_c"]
rests_on = ["conductor", "insulation"]
preconditions = ["CR1"]
safety = { group = "CR" }
points = { pattern = "listed" }
trend = { worse = "higher", scale = "linear" }
correction = { by = "metal", plate = "conductor", otherwise = "copper" }
"""
METALS = {
    "stated": ({"conductor": "aluminium"}, 228.1, "aluminium"),
    "not stated": ({}, 234.5, "copper (taken as copper, not stated)"),
}


@pytest.mark.parametrize(("fields", "k", "label"), METALS.values(), ids=METALS)
def test_the_metal_that_a_reading_is_corrected_by(
    criteria: Criteria, fields: dict[str, Any], k: float, label: str
) -> None:
    made = declared(WARM).compile_rule(Subject(**fields), criteria).to_json()
    assert made["correction"] == {
        "by": "metal",
        "k": k,
        "reference_c": 20.0,
        "label": label,
        "cite": 0,
    }
    assert [one["document"] for one in made["cite"]] == [
        "Linear resistance law of metals"
    ]


UNCORRECTED = {
    "a way that is not there": (
        'by = "metal"',
        'by = "wish"',
        "correction, by: 'wish' is none of none, factor, metal",
    ),
    "a key that is missing": (
        ', otherwise = "copper"',
        "",
        "correction: 'otherwise' is missing",
    ),
    "a value that is no resistance": (
        '{ read = ["uOhm"], rule = "uOhm" }',
        '{ read = ["s"], rule = "s" }',
        "correction, by: 'metal' corrects a resistance, not what is in 's'",
    ),
    "no temperature": (
        'asks = ["temperature_c"]',
        "",
        "correction: 'temperature_c' is not asked for",
    ),
    "a field that the procedure does not rest on": (
        '["conductor", "insulation"]',
        '["insulation"]',
        "correction, plate: 'conductor' does not stand in 'rests_on'",
    ),
    "a metal that is not there": (
        'otherwise = "copper"',
        'otherwise = "cheese"',
        "correction, otherwise: 'cheese' is none of copper, aluminium",
    ),
}


@pytest.mark.parametrize(("old", "new", "said"), UNCORRECTED.values(), ids=UNCORRECTED)
def test_a_correction_that_cannot_be_is_refused(old: str, new: str, said: str) -> None:
    assert old in WARM
    with pytest.raises(CriteriaError) as refused:
        declared(WARM.replace(old, new, 1))
    assert f"stab_resistance.toml: {said}" in str(refused.value)


def test_a_field_whose_choices_are_no_metals_is_refused() -> None:
    text = WARM.replace(
        'plate = "conductor", otherwise = "copper"',
        'plate = "insulation", otherwise = "solid"',
    )
    found = procedure_faults(
        {"stab_resistance": declared(text)}, table_files(), load_preconditions()
    )
    said = "correction: the table 'metals' has no metal 'solid'"
    assert f"stab_resistance.toml: {said}" in list(found)


REASON = "No latest time is given."
LEFT = {
    "no figure at all": ({}, [{"reason": REASON}]),
    "one under one condition": (
        {"close_ms_max": 60.0},
        [{"when": {"operation": "open"}, "reason": REASON}],
    ),
    "one under each": ({"close_ms_max": 60.0, "open_ms_max": 30.0}, []),
    "one for all": ({"limit": 1.0}, []),
}


@pytest.mark.parametrize(("fields", "wanted"), LEFT.values(), ids=LEFT)
def test_what_is_left_unjudged(
    fields: dict[str, Any], wanted: list[dict[str, Any]]
) -> None:
    assert rule(**fields)["unjudged"] == wanted


# What is put into the file, in the place of what, and what the fault says.
REFUSED = {
    "an unknown key": ("title =", "titel =", "'titel' is not known: write name, title"),
    "a key that is missing": ('method = "Two', 'x = "Two', "'method' is missing"),
    "another name than the file's": (
        '"stab_resistance"',
        '"stab"',
        "name: 'stab' is not the name of the file",
    ),
    "a gear that is not there": (
        '["metal_clad"]',
        '["wooden"]',
        "on, gears: 'wooden' is none of metal_enclosed, metal_clad, gas_insulated",
    ),
    "a unit that is not there": (
        '["ms", "s"]',
        '["ms", "jiffy"]',
        "unit, read: 'jiffy' is none of",
    ),
    "a unit of another quantity": (
        '["ms", "s"]',
        '["ms", "Pa"]',
        "unit, read: 'Pa' is not a time, as 's' is",
    ),
    "a condition that is not there": (
        'field = "operation"',
        'field = "mood"',
        "asks: 'mood' is no condition in the table of fields",
    ),
    "a choice that is not there": (
        '["close", "open"], fixed_by',
        '["close", "shut"], fixed_by',
        "asks, operation: 'shut' is none of close, open",
    ),
    "a point twice": (
        'operation = ["close", "open"]',
        'operation = ["close", "close"]',
        "points, by operation: 'close' stands twice",
    ),
    "a pattern that is not there": (
        '"poles"',
        '"polls"',
        "points, pattern: 'polls' is none of phases, poles",
    ),
    "a nameplate field that is not there": (
        '"coil_a"',
        '"coil_aa"',
        "rests_on: 'coil_aa' is not on a nameplate or a setting",
    ),
    "a column that is not there": (
        'columns = ["limit"]',
        'columns = ["limit", "limits"]',
        "columns: 'limits' is not a column of readings files",
    ),
    "a bound that is not there": (
        'kind = "high"\n',
        'kind = "hight"\n',
        "bound 1: 'hight' is none of low, high",
    ),
    "a bound without its figure": (
        'kind = "high"\nvalue',
        'kind = "high"\nvalues',
        "bound 1 (high): 'values' is not known: write kind, value",
    ),
    "a figure that is typed": (
        '{ table = "made_up", match = { rated_kv = "rated_kv" }, '
        'column = "spread_pct", as = "one_plus_pct" }',
        "1.15",
        "bound 2 (high_of_lowest), times: a figure is looked up",
    ),
    "a look-up that is not there": (
        '{ column = "limit" }',
        '{ colum = "limit" }',
        "bound 1 (high), value: ['colum'] is no look-up: write given, table, column",
    ),
    "a word of a look-up that is not there": (
        "times = 2, plus = 1",
        "tims = 2",
        "bound 1 (high), value, open, plate: 'tims' is not known: write plate, times",
    ),
    "a field that the procedure does not rest on": (
        'close = { plate = "close_ms_max" }',
        'close = { plate = "bounce_ms_max" }',
        "value, close, plate: 'bounce_ms_max' does not stand in 'rests_on'",
    ),
    "a field in a unit that does not fit": (
        'close = { plate = "close_ms_max" }',
        'close = { plate = "coil_a" }',
        "value, close, plate: 'coil_a' is in 'A', which does not fit 's'",
    ),
    "a condition that no point fixes": (
        'by = "operation", close',
        'by = "supply", close',
        "bound 1 (high), value, by: 'supply' is not asked for, and no point",
    ),
    "a condition that does not stand last": (
        '{ given = "latest" },\n',
        '{ by = "operation", open = { plate = "open_ms_max" } },\n',
        "what is chosen 'by' a condition stands last",
    ),
    "a quantity that is not given": (
        'given = "latest"',
        'given = "earliest"',
        "value, given: 'earliest' is not among what 'gives' lists",
    ),
    "a way to take a figure that is not there": (
        '"one_plus_pct"',
        '"half"',
        "times, table: 'half' is none of one_plus_pct, one_minus_pct, of_class",
    ),
    "a row that is not said": (
        'at_or_above = { rated_kv = "rated_kv" }, ',
        "",
        "gate 1, at_least, table: write one of 'row', 'row_by', 'match', 'at_or_above'",
    ),
    "a gate without its reason": (
        'reason = "The voltage',
        'why = "The voltage',
        "gate 1: 'why' is not known: write on, known, at_least",
    ),
    "a gate on what is not asked for": (
        'on = "control_v"',
        'on = "control_volts"',
        "gate 1, on: 'control_volts' is not asked for; 'asks' has operation, control_v",
    ),
    "a gate that tests nothing": (
        'at_least = { table = "made_up", at_or_above = { rated_kv = "rated_kv" }, '
        'column = "volts" }',
        "",
        "gate 1: it tests nothing: write one of known, at_least, at_most, one_of",
    ),
    "a gate without the unit of its figure": (
        'unit = "V"',
        "",
        "gate 1: 'unit' is missing",
    ),
    "a text in the place of a list": (
        'preconditions = ["CR1"]',
        'preconditions = "CR1"',
        "preconditions: this is a list: write [...]",
    ),
    "a text in the place of a list of units": (
        'read = ["ms", "s"]',
        'read = "ms"',
        "unit, read: this is a list: write [...]",
    ),
    "a text in the place of a table": (
        'on = { apparatus = ["breaker"], gears = ["metal_clad"] }',
        'on = "breaker"',
        "on: this is a table: write { ... }",
    ),
    "safety with a key that is not known": (
        'safety = { group = "CR" }',
        'safety = { group = "CR", list = "CR" }',
        "safety: 'list' is not known: write group, by, groups, waits_for",
    ),
    "safety without a group": (
        'safety = { group = "CR" }',
        'safety = { waits_for = ["HV4"] }',
        "safety: write group = the kind of test, or by and groups",
    ),
    "safety by what is not asked for": (
        'safety = { group = "CR" }',
        'safety = { by = "supply", groups = { ac = "ACW", dc = "DCW" } }',
        "safety, by: 'supply' is not asked for",
    ),
    "safety by a value that has no group": (
        'safety = { group = "CR" }',
        'safety = { by = "operation", groups = { open = "BT" } }',
        "safety, groups: 'close' is missing",
    ),
    "a direction that is not there": (
        'worse = "away"',
        'worse = "down"',
        "trend, worse: 'down' is none of higher, lower, away, none",
    ),
    "a side that is not there": (
        'side = "greatest"',
        'side = "best"',
        "gives, latest: 'best' is none of least, greatest, level",
    ),
}


@pytest.mark.parametrize(("old", "new", "said"), REFUSED.values(), ids=REFUSED)
def test_a_fault_is_said_with_its_place(old: str, new: str, said: str) -> None:
    assert old in STAB
    with pytest.raises(CriteriaError) as refused:
        declared(STAB.replace(old, new, 1))
    assert "stab_resistance.toml: " in str(refused.value)
    assert said in str(refused.value)


def test_the_lists_of_safety_by_a_condition_and_what_a_card_waits_for() -> None:
    by = 'safety = { by = "operation", waits_for = ["HV4"], groups = { %s } }'
    said = declared(
        STAB.replace('safety = { group = "CR" }', by % 'close = "BT", open = "IL"')
    ).procedure.safety
    assert said.by == "operation"
    assert said.groups == {"close": "BT", "open": "IL"}
    assert said.waits_for == ("HV4",)


def test_a_file_that_is_no_toml_says_its_line() -> None:
    with pytest.raises(CriteriaError, match=r"stab_resistance.toml: .*line 2"):
        parse_declaration("stab_resistance.toml", "a = 1\nb = = 2\n")


def test_every_fault_is_said_at_once() -> None:
    text = STAB.replace('"poles"', '"polls"').replace('"away"', '"down"')
    with pytest.raises(CriteriaError) as refused:
        declared(text)
    assert str(refused.value).count("stab_resistance.toml: ") == 2


# What tables and preconditions are asked for that are not there.
ABSENT = {
    "a table": ("", "", "gate 1: there is no table 'made_up'"),
    "a row": (
        'table = "made_up", at_or_above = { rated_kv = "rated_kv" }, column = "volts"',
        'table = "fuse_spread", row = "none", column = "spread_pct"',
        "gate 1: the table 'fuse_spread' has no row 'none'",
    ),
    "a column": (
        'table = "made_up", match = { rated_kv = "rated_kv" }',
        'table = "fuse_spread", match = { spread = "rated_kv" }',
        "bound 2: the table 'fuse_spread' has no column 'spread', but spread_pct",
    ),
    "a precondition": ('["CR1"]', '["XX9"]', "preconditions: there is no 'XX9'"),
    "an apparatus": (
        '["breaker"]',
        '["teapot"]',
        "on, apparatus: 'teapot' is none of bus, breaker",
    ),
    "a unit of a column": (
        'table = "made_up", match = { rated_kv = "rated_kv" }, column = "spread_pct", '
        'as = "one_plus_pct"',
        'table = "breaker_times", row = "closing", column = "to_ms"',
        "bound 2: the column 'to_ms' is in 'ms': write unit = 'ms'",
    ),
}


@pytest.mark.parametrize(("old", "new", "said"), ABSENT.values(), ids=ABSENT)
def test_what_is_not_there_is_said(old: str, new: str, said: str) -> None:
    assert old in STAB
    found = procedure_faults(
        {"stab_resistance": declared(STAB.replace(old, new, 1))},
        table_files(),
        load_preconditions(),
    )
    assert f"stab_resistance.toml: {said}" in "; ".join(found)


def test_the_program_does_not_start_with_a_fault(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(
        "models.criteria.loader.declarations", lambda: {"stab_resistance": declared()}
    )
    load.cache_clear()
    try:
        with pytest.raises(CriteriaError, match="there is no table 'made_up'"):
            load()
    finally:
        load.cache_clear()
