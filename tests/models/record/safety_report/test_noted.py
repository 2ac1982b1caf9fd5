"""Values that were noted, in words; whatever was sent, the page can be made."""

from typing import Any

import pytest

from models.record.safety_report.noted import value_words
from tests.data.safety_day import Day, clock
from tests.models.record.safety_report.told_day import told

AT = clock("9:00")
MARIT = {"id": "marit", "name": "Marit Osei"}

VALUES: dict[str, tuple[str, Any, str]] = {
    "a text": ("text", "D-12", "D-12 kV"),
    "a number": ("number", 36, "36 kV"),
    "a choice": ("choice", "racked_out_seen", "racked out seen kV"),
    "a time of the day": ("time", clock("8:15"), "08:15 kV"),
    "a time of another day": ("time", clock("1 8:15"), "2026-12-01 08:15 kV"),
    "a person": ("person", MARIT, "Marit Osei kV"),
    "people": ("people", [MARIT, MARIT], "Marit Osei, Marit Osei kV"),
    "grounds by what they are": ("grounds", ["g1"], "G-2 kV"),
    "a cell": ("cell", "cell1", "cell 1 kV"),
    "a time that is none": ("time", "after lunch", "after lunch kV"),
    "a time that is a number": ("time", 8, "8 kV"),
    "a person that is a text": ("person", "Marit", "Marit kV"),
    "people that are one": ("people", MARIT, "Marit Osei kV"),
    "a ground that is one text": ("grounds", "g1", "G-2 kV"),
    "a cell that is a list": ("cell", ["cell1"], "['cell1'] kV"),
}


@pytest.mark.parametrize(("kind", "value", "said"), VALUES.values(), ids=VALUES)
def test_a_value_is_said_by_the_kind_of_its_field(
    kind: str, value: Any, said: str
) -> None:
    values, _ = told(Day().morning())
    assert value_words(values, {"kind": kind, "unit": "kV"}, value, AT) == said
