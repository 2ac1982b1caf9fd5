"""Notes never change what was judged: a law over rules, readings and rows."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.criteria import load
from models.judging import Accuracy, Judgement, Reading, Rule
from models.procedures import Subject, compile_rule, judge

SUBJECTS: dict[str, Subject] = {
    "insulation_resistance": Subject(gear="metal_clad", rated_kv=15.0),
    "contact_resistance": Subject(conductor="copper", limit=50.0),
    "dielectric_withstand": Subject(
        gear="metal_clad", rated_kv=15.0, altitude_m=2345.6
    ),
    "vacuum_integrity": Subject(rated_kv=15.0),
    "relay_timing": Subject(curve="ieee_very_inverse", pickup_a=480.0, time_dial=2.0),
}
UNITS = {
    "insulation_resistance": "GOhm",
    "contact_resistance": "uOhm",
    "vacuum_integrity": "Pa",
    "relay_timing": "s",
}
RULES = {name: compile_rule(name, one, load()) for name, one in SUBJECTS.items()}

numbers = st.floats(0.0, 1e6).map(repr)
shown = st.tuples(st.sampled_from(("", ">", "<")), numbers).map("".join)
step = st.tuples(st.floats(0.0, 1e3).map(repr), shown).map(":".join)
row = st.lists(step, max_size=6).map(" ".join) | st.text(max_size=20)
conditions = st.fixed_dictionaries(
    {},
    optional={
        "temperature_c": st.floats(-60.0, 120.0),
        "air_temperature_c": st.floats(-273.0, 1e3),
        "humidity_pct": st.floats(0.0, 1e3),
        "test_kv": st.floats(0.0, 100.0),
        "duration_s": st.floats(0.0, 100.0),
        "test_current_a": st.floats(0.0, 1e3),
        "applied_a": st.floats(0.0, 1e5),
        "supply": st.sampled_from(("ac", "dc")),
        "method": st.sampled_from(("ac", "dc", "magnetron")),
        "timed": row,
        "steps": row,
        "leakage": row,
    },
)
accuracies = st.none() | st.builds(
    Accuracy, pct=st.floats(0.0, 100.0), fixed=st.floats(0.0, 1e3)
)


def without_words(judged: Judgement) -> tuple[Any, ...]:
    found = judged._asdict()
    return tuple(found[name] for name in found if name not in ("cite", "working"))


@pytest.mark.property
@given(
    name=st.sampled_from(sorted(RULES)),
    text=shown,
    outcome=st.sampled_from(("held", "broke_down")),
    accuracy=accuracies,
    given_conditions=conditions,
)
def test_notes_change_nothing_but_the_working(
    name: str,
    text: str,
    outcome: str,
    accuracy: Accuracy | None,
    given_conditions: dict[str, Any],
) -> None:
    rule = RULES[name]
    unit = UNITS.get(name)
    reading = Reading(
        key="r",
        text=text if unit else outcome,
        unit=unit,
        accuracy=accuracy,
        conditions=given_conditions,
    )
    noted, bare = (_judged(one, reading) for one in (rule, replace(rule, notes=())))
    assert without_words(noted) == without_words(bare)
    assert noted.cite[: len(bare.cite)] == bare.cite
    lines = [line for line in bare.working if not line.startswith("Source: ")]
    told = iter(noted.working)  # a last gate speaks after the sources
    assert all(line in told for line in lines)


def _judged(rule: Rule, reading: Reading) -> Judgement:
    (judged,) = judge([(rule, reading)])
    return judged
