"""Whether what was typed can be a reading of a procedure at all."""

import pytest

from models.errors import InputError
from models.judging import Interval, Outcome, check_reading
from models.procedures import PROCEDURES

TAKEN: dict[str, tuple[str, str, str | None, object, str | None]] = {
    "a resistance": (
        "insulation_resistance",
        "4.2",
        "GΩ",
        Interval(4.2, 4.2),
        "GOhm",
    ),
    "zero": ("contact_resistance", "0", "uOhm", Interval(0, 0), "uOhm"),
    "an outcome": ("dielectric_withstand", "held", None, Outcome.HELD, None),
    "an outcome with a unit beside it": (
        "vacuum_integrity",
        "held",
        "Pa",
        Outcome.HELD,
        None,
    ),
    "an outcome where numbers are taken": (
        "relay_timing",
        "no_trip",
        "s",
        Outcome.NO_TRIP,
        None,
    ),
    "a pressure": ("vacuum_integrity", "<1e-3", "pa", Interval(None, 1e-3), "Pa"),
}


@pytest.mark.parametrize(
    ("procedure", "text", "unit", "value", "name"), TAKEN.values(), ids=TAKEN
)
def test_it_is_taken(
    procedure: str, text: str, unit: str | None, value: object, name: str | None
) -> None:
    assert check_reading(PROCEDURES[procedure], text, unit) == (value, name)


REFUSED: dict[str, tuple[str, str, str | None, str, str]] = {
    "negative resistance": (
        "insulation_resistance",
        "-4",
        "GOhm",
        "value",
        "cannot be negative",
    ),
    "negative bound": (
        "contact_resistance",
        "<-1",
        "uOhm",
        "value",
        "cannot be negative",
    ),
    "a unit of another quantity": (
        "insulation_resistance",
        "4",
        "s",
        "unit",
        "use GΩ, MΩ, kΩ, TΩ",
    ),
    "a unit of another range": (
        "contact_resistance",
        "4",
        "GOhm",
        "unit",
        "use µΩ, mΩ",
    ),
    "no unit": ("relay_timing", "4", None, "unit", "No unit is given"),
    "an unknown unit": ("relay_timing", "4", "minutes", "unit", "use s, ms"),
    "another test's outcome": (
        "relay_timing",
        "held",
        "s",
        "value",
        "enter no_trip or a number",
    ),
    "an outcome where there is none": (
        "insulation_resistance",
        "held",
        "GOhm",
        "value",
        "enter a number",
    ),
    "a number where there is none": (
        "dielectric_withstand",
        "27",
        "kV",
        "value",
        "enter held or broke_down",
    ),
}


@pytest.mark.parametrize(
    ("procedure", "text", "unit", "field", "remedy"), REFUSED.values(), ids=REFUSED
)
def test_it_is_refused_with_its_place_and_a_remedy(
    procedure: str, text: str, unit: str | None, field: str, remedy: str
) -> None:
    with pytest.raises(InputError, match=remedy) as caught:
        check_reading(PROCEDURES[procedure], text, unit)
    assert [fault.field for fault in caught.value.faults] == [field]


def test_every_procedure_takes_its_own_units_and_outcomes() -> None:
    for procedure in PROCEDURES.values():
        for unit in procedure.units:
            assert check_reading(procedure, "1", unit)[1] == unit
        for outcome in procedure.outcomes:
            assert check_reading(procedure, outcome, None)[0] == outcome


OUTCOMES_REFUSED: dict[str, tuple[str, str, str]] = {
    "where only numbers are": (
        "insulation_resistance",
        "held",
        "'held' does not fit insulation resistance: enter a number.",
    ),
    "where numbers are too": (
        "vacuum_integrity",
        "no_trip",
        "'no_trip' does not fit vacuum integrity: enter held or broke_down or a "
        "number.",
    ),
    "where no numbers are": (
        "dielectric_withstand",
        "no_trip",
        "'no_trip' does not fit dielectric withstand: enter held or broke_down.",
    ),
}


@pytest.mark.parametrize(
    ("procedure", "text", "message"), OUTCOMES_REFUSED.values(), ids=OUTCOMES_REFUSED
)
def test_an_outcome_that_a_test_does_not_have_is_answered_with_those_it_has(
    procedure: str, text: str, message: str
) -> None:
    with pytest.raises(InputError) as caught:
        check_reading(PROCEDURES[procedure], text, None)
    assert [fault.message for fault in caught.value.faults] == [message]
