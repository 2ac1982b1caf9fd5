"""Readings over the steps of a voltage: resistance, and leakage current."""

import pytest

from models.judging import Criteria
from models.judging.notes import leakage, step_voltage
from tests.models.judging.notes.noted import said

GOOD = {"temperature_c": 20.0, "test_kv": 2.5}

STEPS: dict[str, tuple[str, str]] = {
    "the same": (
        "1:5.2 5:5.2",
        "5.2 (5 kV) / 5.2 (1 kV) = 1.00: no fall of more than 25 %.",
    ),
    "a quarter less": ("1:4 5:3", "= 0.750: no fall of more than 25 %."),
    "more than a quarter": (
        "1:4 2.5:4 5:2.9",
        "= 0.725, a fall of 27.5 %, more than 25 %",
    ),
    "a rise": ("1:4 5:8", "= 2.00: no fall"),
    "one step": ("5:8", "two exact readings are wanted"),
    "over range": ("1:>4 5:8", "two exact readings are wanted"),
    "nothing at first": ("1:0 5:8", "nothing can be compared with a resistance of 0"),
    "not to be read": ("1:4 1:5", "the row cannot be read"),
}


@pytest.mark.parametrize(("steps", "wanted"), STEPS.values(), ids=STEPS)
def test_step_voltage(criteria: Criteria, steps: str, wanted: str) -> None:
    (line,) = said(step_voltage.make(criteria), steps=steps, **GOOD)
    assert line.startswith("Step voltage: ")
    assert wanted in line


# Apparent resistances by hand: kV over µA is GΩ.
LEAKAGE: dict[str, tuple[str, str]] = {
    "even": (
        "10:3.1 20:6.0 37.5:11.5",
        "differ by 3.2 %, not more than 20 %: the current",
    ),
    "faster at the last": (
        "10:3.1 20:6.0 37.5:15",
        "At the last step it is 25 % below 3.333 GΩ, more than 20 %",
    ),
    "a fifth": ("10:4 20:10", "differ by 20 %, not more than 20 %"),
    "uneven, but not at the last": (
        "10:5 20:20 30:15",
        "differ by 50 %, more than 20 %",
    ),
    "slower": ("10:10 20:10", "differ by 50 %, more than 20 %"),
    "one current": ("10:3", "two exact currents are wanted"),
    "only bounds": ("10:<0.1 20:<0.1", "two exact currents are wanted"),
    "no current": ("10:0 20:0", "two exact currents are wanted"),
    "a bound between": ("10:4 20:<9 30:12", "differ by 0 %"),
    "not to be read": ("10;3", "the row cannot be read"),
}


@pytest.mark.parametrize(("row", "wanted"), LEAKAGE.values(), ids=LEAKAGE)
def test_leakage(criteria: Criteria, row: str, wanted: str) -> None:
    lines = said(leakage.make(criteria, "supply"), supply="dc", leakage=row, **GOOD)
    assert wanted in lines[-1]


def test_each_step_is_shown(criteria: Criteria) -> None:
    lines = said(
        leakage.make(criteria, "supply"),
        supply="dc",
        leakage="10:3.1 20:>6.0 37.5:15",
        **GOOD,
    )
    assert lines[0] == (
        "Apparent resistance: 10 kV / 3.1 µA = 3.226 GΩ; 37.5 kV / 15 µA = 2.500 GΩ."
    )


def test_nothing_is_said_of_an_ac_test_or_without_steps(criteria: Criteria) -> None:
    assert (
        said(leakage.make(criteria, "supply"), supply="ac", leakage="10:3", **GOOD)
        == []
    )
    assert said(leakage.make(criteria, "supply"), supply="dc", **GOOD) == []
    assert said(step_voltage.make(criteria), **GOOD) == []


# Of a dc withstand of a cable, while its level is held.
HELD = {
    "falls": ("1:6.0 2:5.2 15:4.1", "from 6.0 µA after 1 min to 4.1 µA after 15 min"),
    "stays": ("1:6 15:6.0", "it does not rise while the voltage stands still"),
    "rises": ("1:6.0 15:6.3", "rises from 6.0 µA after 1 min to 6.3 µA after 15 min"),
    "one current": ("1:6", "two exact currents are wanted"),
    "bounds": ("1:<6 15:>7", "two exact currents are wanted"),
    "not to be read": ("1;6", "the row cannot be read"),
}


@pytest.mark.parametrize(("row", "wanted"), HELD.values(), ids=HELD)
def test_leakage_while_the_level_is_held(row: str, wanted: str) -> None:
    (line,) = said(leakage.make_held(), held_leakage=row, **GOOD)
    assert wanted in line


def test_nothing_is_said_without_a_row_of_it() -> None:
    assert said(leakage.make_held(), **GOOD) == []
