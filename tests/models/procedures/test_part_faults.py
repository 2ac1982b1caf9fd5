"""Faults of declared gates, derived values, corrections and bounds, each placed."""

import pytest

from models.errors import CriteriaError
from models.procedures.declaration import parse_declaration

FILE = """
name = "made_up"
title = "Made up"
method = "Two sentences. About a made-up test."
on = { apparatus = ["ct"], gears = ["metal_clad"] }
unit = { read = ["uOhm"], rule = "uOhm" }
signed = true
preconditions = []
safety = { group = "CT_dc" }
points = { pattern = "listed" }
trend = { worse = "away", scale = "linear" }
asks = ["applied_v", "supply", "temperature_c"]
rests_on = ["ct_primary_a", "ct_secondary_a", "insulation"]
outcomes = ["held", "broke_down"]
correction = { by = "factor", table = "rows", column = "few", reference_c = 20 }

[[gate]]
on = "error"
known = true
reason = "It has to be known."

[[derive]]
name = "error"
op = "over"
by = { plate = "ct_primary_a", times = 2 }
unit = "%"
when = { supply = "ac" }

[[bound]]
kind = "near"
of = "error"
value = { quotient = [{ plate = "ct_primary_a" }, { plate = "ct_secondary_a" }] }
pct = 5

[[bound]]
kind = "withstand"
value = { by = "supply", ac = { table = "rows", row_by = { field = "insulation", \
oil = "few" }, column = "kv" } }

[[bound]]
kind = "low"
value = { table = "rows", row = "few", column = "kv" }
"""
FAULTS = {
    "signed is no text": (
        "signed = true",
        'signed = "yes"',
        "signed: this is yes or no: write true or false",
    ),
    "a word that is not there": (
        'op = "over"',
        'op = "under"',
        "derive 1: 'under' is none of over, plus, minus, error_pct",
    ),
    "an argument that a word does not have": (
        'by = { plate = "ct_primary_a", times = 2 }',
        "by = 1.0\nexpected = 1.0",
        "derive 1 (error): 'expected' is not known: write name, op, when, by",
    ),
    "an argument that is missing": (
        'by = { plate = "ct_primary_a", times = 2 }\n',
        "",
        "'by' is not what it has to be",
    ),
    "a nameplate field that it does not rest on": (
        'by = { plate = "ct_primary_a", times = 2 }',
        'by = { plate = "coil_a" }',
        "derive 1 (error), by, plate: 'coil_a' does not stand in 'rests_on'",
    ),
    "a condition that nobody asks for": (
        'by = { plate = "ct_primary_a", times = 2 }',
        'by = { on = "control_v" }',
        "derive 1 (error), by, on: 'control_v' is not asked for",
    ),
    "a condition that chooses a derived value": (
        'by = { plate = "ct_primary_a", times = 2 }',
        'by = { by = "supply", ac = { plate = "ct_primary_a" } }',
        "derive 1 (error), by: no condition may choose it here",
    ),
    "a case that is not there": (
        'when = { supply = "ac" }',
        'when = { supply = "gas" }',
        "derive 1 (error), when supply: 'gas' is none of ac, dc",
    ),
    "a case of what is not asked for": (
        'when = { supply = "ac" }',
        'when = { coil = "close" }',
        "derive 1 (error), when: 'coil' is not asked for",
    ),
    "a gate on what is not there": (
        'on = "error"',
        'on = "errror"',
        "gate 1, on: 'errror' is not asked for; 'asks' has applied_v, supply",
    ),
    "a bound of what is not there": (
        'of = "error"',
        'of = "ratio"',
        "bound 1 (near), of: 'ratio' is not asked for; 'asks' has applied_v",
    ),
    "a band without a width": (
        "pct = 5",
        "below = false",
        "bound 1 (near): write one of 'pct', 'fixed'",
    ),
    "a limit that is typed": (
        'value = { table = "rows", row = "few", column = "kv" }',
        "value = 4",
        "bound 3 (low), value: a figure is looked up",
    ),
    "a limit out of a condition": (
        'value = { table = "rows", row = "few", column = "kv" }',
        'value = { on = "applied_v" }',
        "bound 3 (low), value: 'on' is not known here: look the figure up",
    ),
    "an expectation with a word that is not there": (
        'value = { quotient = [{ plate = "ct_primary_a" }, '
        '{ plate = "ct_secondary_a" }] }',
        'value = { on = "applied_v", tims = 2 }',
        "bound 1 (near), value: 'tims' is not known: write on, times, plus, points",
    ),
    "a quotient of one": (
        '[{ plate = "ct_primary_a" }, { plate = "ct_secondary_a" }]',
        '[{ plate = "ct_primary_a" }]',
        "bound 1 (near), value, quotient: write a list of two or more look-ups",
    ),
    "two ways to a row": (
        'row = "few", column = "kv" }',
        'row = "few", row_by = "insulation", column = "kv" }',
        "table: write one of 'row', 'row_by', 'match', 'at_or_above'",
    ),
    "two ways to a column": (
        'row = "few", column = "kv" }',
        'row = "few", column_by = "insulation", column = "kv" }',
        "table: write one of 'column', 'column_by'",
    ),
    "a word that the field does not have": (
        'oil = "few"',
        'ice = "few"',
        "table, row_by: 'ice' is none of solid, oil",
    ),
    "a reason that is no text": (
        'value = { table = "rows", row = "few", column = "kv" }',
        "value = { missing = 5 }",
        "bound 3 (low), value, missing: write the reason as a text",
    ),
    "a comparison of what may be negative": (
        'kind = "low"\nvalue',
        'kind = "over_lowest"\nvalue',
        "bound 3 (over_lowest): what may be negative has no such comparison",
    ),
    "a correction that is not there": (
        'by = "factor"',
        'by = "wish"',
        "correction, by: 'wish' is none of none, factor, metal",
    ),
    "a correction without its table": (
        'by = "factor", table = "rows"',
        'by = "factor"',
        "correction: 'table' is missing",
    ),
    "a correction by no column": (
        'column = "few", reference_c',
        "reference_c",
        "correction: write one of 'column', 'column_by'",
    ),
}


@pytest.mark.parametrize(("old", "new", "said"), FAULTS.values(), ids=FAULTS)
def test_a_fault_is_said_with_its_place(old: str, new: str, said: str) -> None:
    parse_declaration("made_up.toml", FILE)
    assert old in FILE
    with pytest.raises(CriteriaError) as refused:
        parse_declaration("made_up.toml", FILE.replace(old, new, 1))
    assert said in str(refused.value)
    assert "made_up.toml: " in str(refused.value)
