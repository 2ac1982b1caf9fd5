"""What a declared file is compiled into: derived values, bounds, corrections."""

from dataclasses import replace
from typing import Any

import pytest

from models.judging import Criteria, Table
from models.procedures import Subject
from models.procedures.baseline import Baseline
from models.procedures.declaration import parse_declaration
from models.procedures.given import Given

HEAD = """
name = "made_up"
title = "Made up"
method = "Two sentences. About a made-up test."
on = { apparatus = ["ct"], gears = ["metal_clad"] }
preconditions = []
safety = { group = "CT_dc" }
points = { pattern = "listed" }
trend = { worse = "away", scale = "linear" }
rests_on = ["ct_primary_a", "ct_secondary_a", "insulation", "coil_a", "conductor"]
"""
RATIO = """
unit = { read = ["V"], rule = "V" }
signed = true
asks = ["applied_v", { field = "supply", required = false }, "temperature_c"]
"""
OHMS = RATIO.replace('"V"', '"Ohm"')
HELD = """
outcomes = ["held", "broke_down", "as_expected", "not_as_expected"]
asks = ["supply", "test_kv", "duration_s"]
"""
ROWS = (
    {"row": "few", "solid": 1.0, "oil": 2.0, "pct": 5.0, "temperature_c": 10.0},
    {"row": "many", "solid": 3.0, "oil": 4.0, "pct": 7.0, "temperature_c": 30.0},
)
TABLE = Table(
    key="rows",
    document="Made up",
    edition="",
    table="",
    unit="",
    rows=[{**row, "provenance": "published"} for row in ROWS],
)


def rule(criteria: Criteria, text: str, **fields: Any) -> dict[str, Any]:
    """Compile a made-up file; the published tables and one of our own are there."""
    known = Criteria({**criteria.tables, "rows": TABLE})
    one = parse_declaration("made_up.toml", HEAD + text)
    return one.compile_rule(Subject(**fields), known).to_json()


QUOTIENT = """
[[derive]]
name = "error"
op = "error_pct"
of = "reading"
expected = { quotient = [{ plate = "ct_primary_a" }, { plate = "ct_secondary_a" }] }
unit = "%"
[[bound]]
kind = "high"
of = "error"
value = { table = "rows", row = "few", column = "pct" }
"""
PLATE = {"ct_primary_a": 600.0, "ct_secondary_a": 5.0}


def test_a_derived_value_of_the_nameplate(criteria: Criteria) -> None:
    made = rule(criteria, RATIO + QUOTIENT, **PLATE)
    assert (made["v"], made["signed"], made["unjudged"]) == (3, True, [])
    assert [part["expected"] for part in made["derive"]] == [120.0]
    assert made["bounds"] == [
        {"kind": "high", "value": 5.0, "unit": "%", "of": "error", "cite": 1}
    ]
    assert "600 A" in made["cite"][0]["note"]
    assert "5 A" in made["cite"][0]["note"]


def test_what_rests_on_a_value_that_cannot_be_is_unjudged(criteria: Criteria) -> None:
    made = rule(criteria, RATIO + QUOTIENT, ct_primary_a=600.0)
    assert (made["derive"], made["bounds"]) == ([], [])
    assert made["unjudged"] == [{"reason": "Not known: secondary current of the CT."}]


def test_a_chain_of_derived_values_falls_together(criteria: Criteria) -> None:
    text = (
        QUOTIENT.replace('of = "error"', 'of = "twice"')
        + """
[[derive]]
name = "twice"
op = "plus"
of = "error"
by = { on = "applied_v" }
[[gate]]
on = "error"
at_most = { table = "rows", row = "many", column = "pct" }
unit = "%"
reason = "Too far."
"""
    )
    made = rule(criteria, RATIO + text)
    assert (made["derive"], made["bounds"], made["gates"]) == ([], [], [])
    assert len(made["unjudged"]) == 1


GIVES = """
[[gives]]
name = "share"
title = "Share"
side = "greatest"
units = ["%"]
"""
NEAR = (
    GIVES
    + """
[[bound]]
kind = "near"
value = { on = "applied_v", times = { quotient = [{ plate = "ct_secondary_a" }, \
{ plate = "ct_primary_a" }] }, plus = 1 }
pct = { given = "share" }
"""
)
SHARE = Given(
    quantity="share", value=4.0, standing="project", scope="lineup", document="paper"
)
# A condition that is not named in the catalogue has its field's words and unit.
VOLTS = {"label": "applied voltage", "unit": "V"}
EXPECTED = {"on": "applied_v", "times": 5 / 600, "plus": 1, **VOLTS}
FIXED = "fixed = 0.1\nbelow = false\n"
NEARS: dict[str, tuple[str, dict[str, Any], list[dict[str, Any]]]] = {
    "a tolerance that is given": (
        "",
        {**PLATE, "given": (SHARE,)},
        [
            {
                "kind": "near",
                "expected": EXPECTED,
                "pct": 4.0,
                "cite": 0,
                "tolerance_cite": 1,
            }
        ],
    ),
    "nobody gave it": ("", PLATE, []),
    "nobody gave it, a fixed part is said": (
        FIXED,
        PLATE,
        [
            {
                "kind": "near",
                "expected": EXPECTED,
                "fixed": 0.1,
                "below": False,
                "cite": 0,
            }
        ],
    ),
    "what is expected is not known": (FIXED, {"given": (SHARE,)}, []),
}


@pytest.mark.parametrize(("more", "fields", "wanted"), NEARS.values(), ids=NEARS)
def test_near_what_is_expected_of_a_condition(
    criteria: Criteria, more: str, fields: dict[str, Any], wanted: list[dict[str, Any]]
) -> None:
    assert rule(criteria, RATIO + NEAR + more, **fields)["bounds"] == wanted


def test_both_sources_of_a_band_are_said(criteria: Criteria) -> None:
    made = rule(criteria, RATIO + NEAR, **PLATE, given=(SHARE,))
    assert [one["provenance"] for one in made["cite"]] == ["maker", "project"]
    assert made["cite"][-1]["document"] == "paper"


LOW = """
[[bound]]
kind = "low"
value = { table = "rows", %s, missing = "No row for it." }
"""
NO_ROW = {"reason": "No row for it."}
TAKEN: dict[str, tuple[str, dict[str, Any], float | None]] = {
    "a row": ('row = "few", column = "oil"', {}, 2.0),
    "times and plus": ('row = "few", column = "oil", times = 2, plus = 1', {}, 5.0),
    "the field names the column": (
        'row = "many", column_by = "insulation"',
        {"insulation": "oil"},
        4.0,
    ),
    "the field is not given": ('row = "many", column_by = "insulation"', {}, None),
    "the field chooses the column": (
        'row = "many", column_by = { field = "insulation", solid = "oil" }',
        {"insulation": "solid"},
        4.0,
    ),
    "the field chooses the row": (
        'row_by = { field = "insulation", solid = "many" }, column = "pct"',
        {"insulation": "solid"},
        7.0,
    ),
    "the field chooses no row": (
        'row_by = { field = "insulation", solid = "many" }, column = "pct"',
        {"insulation": "oil"},
        None,
    ),
}


@pytest.mark.parametrize(("said", "fields", "wanted"), TAKEN.values(), ids=TAKEN)
def test_which_row_and_column_of_a_table(
    criteria: Criteria, said: str, fields: dict[str, Any], wanted: float | None
) -> None:
    made = rule(criteria, RATIO + LOW % said, **fields)
    assert [one["value"] for one in made["bounds"]] == (
        [] if wanted is None else [wanted]
    )
    assert made["unjudged"] == ([NO_ROW] if wanted is None else [])


WITHSTAND = """
[[bound]]
kind = "withstand"
value = { by = "supply", ac = { table = "rows", row = "few", column = "oil" }, \
dc = { missing = "Ask the maker for a dc level." } }
hold_s = 900
"""


def test_held_at_a_level_that_a_condition_chooses(criteria: Criteria) -> None:
    made = rule(criteria, HELD + WITHSTAND)
    assert made["bounds"] == [
        {
            "kind": "withstand",
            "level_kv": 2.0,
            "hold_s": 900,
            "over_pct": 5.0,
            "when": {"supply": "ac"},
            "cite": 0,
        }
    ]
    assert made["unjudged"] == [
        {"when": {"supply": "dc"}, "reason": "Ask the maker for a dc level."}
    ]


def test_a_bound_under_a_condition_and_without_a_source_is_practice(
    criteria: Criteria,
) -> None:
    text = """
[[bound]]
kind = "expected"
met = ["as_expected"]
missed = ["not_as_expected"]
when = { supply = "ac" }
"""
    made = rule(criteria, HELD + text)
    assert made["bounds"][0]["when"] == {"supply": "ac"}
    assert made["cite"][0]["provenance"] == "practice"
    cited = text + 'cite = { table = "rows", row = "few" }'
    assert rule(criteria, HELD + cited)["cite"][0]["document"] == "Made up"


BASELINE = (
    GIVES
    + """
[[bound]]
kind = "of_baseline"
low_times = { given = "share", as = "one_minus_pct" }
high_times = { first_of = [{ given = "share", as = "one_plus_pct" }] }
"""
)
READ = Baseline(value=0.036, unit="kV", expanded=0.001, round="Acceptance 1")
AT_BASELINE: dict[str, tuple[Baseline | None, list[dict[str, Any]]]] = {
    "none": (None, []),
    "in another unit": (
        READ,
        [
            {
                "kind": "of_baseline",
                "low_times": 0.96,
                "high_times": 1.04,
                "cite": 0,
                "value": pytest.approx(36.0),
                "u": pytest.approx(1.0),
                "round": "Acceptance 1",
            }
        ],
    ),
    "nothing is a multiple of it": (replace(READ, value=0.0), []),
}


@pytest.mark.parametrize(("read", "wanted"), AT_BASELINE.values(), ids=AT_BASELINE)
def test_at_a_point_with_a_baseline(
    criteria: Criteria, read: Baseline | None, wanted: list[dict[str, Any]]
) -> None:
    text = RATIO.replace("signed = true", "") + BASELINE
    assert parse_declaration("made_up.toml", HEAD + text).procedure.against_baseline
    made = rule(criteria, text, given=(SHARE,), baseline=read)
    assert made["bounds"] == wanted
    assert [one["document"] for one in made["cite"]] == ["paper"] * 2 * len(wanted)


CORRECTED: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    "a metal to 75 degC": (
        '{ by = "metal", plate = "conductor", otherwise = "copper", reference_c = 75 }',
        {},
        {"k": 234.5, "reference_c": 75},
    ),
    "the factors of a column": (
        '{ by = "factor", table = "rows", column_by = "insulation", reference_c = 20 }',
        {"insulation": "oil"},
        {"points": [[10.0, 2.0], [30.0, 4.0]], "reference_c": 20, "label": "oil"},
    ),
    "nobody says which column": (
        '{ by = "factor", table = "rows", column_by = "insulation", reference_c = 20 }',
        {},
        {"by": "none"},
    ),
}


@pytest.mark.parametrize(
    ("said", "fields", "wanted"), CORRECTED.values(), ids=CORRECTED
)
def test_the_correction(
    criteria: Criteria, said: str, fields: dict[str, Any], wanted: dict[str, Any]
) -> None:
    made = rule(criteria, f"{OHMS}correction = {said}", **fields)
    assert made["correction"] == made["correction"] | wanted
    assert bool(made["unjudged"]) == (wanted == {"by": "none"})
