"""What a field may hold, and the words in which anything else is refused."""

import math
from typing import Any

import pytest

from models.errors import InputError
from models.fields import FIELDS, check_value, field, fields, find_field, read_value
from models.fields.row import Kind

TYPED: dict[str, tuple[str, str, str | None, object]] = {
    "a temperature": ("temperature_c", "23.5", None, 23.5),
    "frost": ("air_temperature_c", "-20", None, -20.0),
    # 122 °F is 50 °C: t/°C = (t/°F - 32)/1.8, NIST SP 811, appendix B.8
    "Fahrenheit": ("temperature_c", "122", "°F", 50.0),
    "below zero in Fahrenheit": ("air_temperature_c", "-40", "degF", -40.0),
    "volts for kilovolts": ("test_kv", "2500", "V", 2.5),
    "milliohms for microohms": ("contact_limit_uohm", "0.06", "mΩ", 60.0),
    # 1 atm = 14.6959 psi = 29.9213 inHg = 101.325 kPa, NIST SP 811
    "pounds a square inch": ("first_kpa", "14.69595", "psi", 101.325),
    "inches of mercury": ("air_pressure_kpa", "29.92126", "inHg", 101.325),
    "feet for metres": ("probe_m", "100", "ft", 30.48),
    "the end of a range": ("humidity_pct", "100", None, 100.0),
    "nothing at all": ("humidity_pct", "0", None, 0.0),
    "a word": ("method", "magnetron", None, "magnetron"),
    "a yes": ("ct_gapped", "yes", None, True),
    "a no": ("bolt_lubricated", "no", None, False),
    "a step of a sequence": ("step_close_a", "yes", None, True),
    "a list": ("multiples", "2 3 5", None, [2.0, 3.0, 5.0]),
    "a text": ("serial", "V-2201", None, "V-2201"),
}


@pytest.mark.parametrize(("name", "text", "unit", "value"), TYPED.values(), ids=TYPED)
def test_what_was_typed_is_read(
    name: str, text: str, unit: str | None, value: object
) -> None:
    wanted = pytest.approx(value, rel=1e-5) if isinstance(value, float) else value
    assert read_value(name, text, unit) == wanted


def test_minus_zero_is_zero() -> None:
    assert math.copysign(1, read_value("temperature_c", "-0")) == 1.0


def test_cycles_are_read_where_the_frequency_is_known() -> None:
    assert read_value("close_ms_max", "3", "cycles", 60) == pytest.approx(50.0)
    with pytest.raises(InputError, match="rated frequency is known only"):
        read_value("close_ms_max", "3", "cycles")


REFUSED: dict[str, tuple[str, str, str]] = {
    "colder than anything": (
        "temperature_c",
        "-300",
        "Temperature: -300 must be between -60 and 250 °C.",
    ),
    "air more than damp": (
        "humidity_pct",
        "150",
        "Relative humidity: 150 must be between 0 and 100 %.",
    ),
    "a rated voltage of nothing": (
        "rated_kv",
        "0",
        "Rated maximum voltage: 0 must be above 0 and at most 500 kV.",
    ),
    "an error of half": (
        "pickup_error_pct",
        "50",
        "Declared error of pickup: 50 must be at least 0 and below 50 %.",
    ),
    "a part of an operation": (
        "operations",
        "1.5",
        "Operations: 1.5 must be a whole number between 0 and 1000000.",
    ),
    "a limit below zero": ("limit", "-1", "Maker's limit: -1 must be at least 0."),
    "a word of another field": (
        "supply",
        "magnetron",
        "Supply: 'magnetron' is none of ac, dc.",
    ),
    "perhaps": ("ct_gapped", "perhaps", "Gapped core: 'perhaps' is none of yes, no."),
    "a comma": (
        "temperature_c",
        "23,5",
        "Temperature: '23,5' has a comma: write the decimal point as '.', and no "
        "thousands separators.",
    ),
    "a word": (
        "test_kv",
        "five",
        "Test voltage: 'five' is not a number: write it like 4.2.",
    ),
    "over range": ("test_kv", ">5", "Test voltage: '>5' is not a plain number."),
    "one of a list": (
        "multiples",
        "2 0",
        "Test multiples of pickup: 0 must be above 0 and at most 1000000.",
    ),
    "no field": ("picup_a", "480", "There is no field 'picup_a'."),
    "a beginning alone": ("step_", "yes", "There is no field 'step_'."),
}


@pytest.mark.parametrize(("name", "text", "said"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused_in_the_words_of_the_field(
    name: str, text: str, said: str
) -> None:
    with pytest.raises(InputError) as caught:
        read_value(name, text)
    assert [(f.field, f.message) for f in caught.value.faults] == [(name, said)]


def test_a_unit_that_the_field_does_not_read_is_refused() -> None:
    with pytest.raises(InputError, match="Test voltage: 'A' is none of kV, V"):
        read_value("test_kv", "5", "A")


STORED: dict[str, tuple[str, Any, str]] = {
    "text for a number": ("pickup_a", "400 A", "'400 A' is not a number."),
    "a truth for a number": ("time_dial", True, "'True' is not a number."),
    "no number": ("time_dial", math.nan, "'nan' is out of all proportion"),
    "without end": ("rated_kv", math.inf, "'inf' is out of all proportion"),
    "a number for a text": ("serial", 7, "write at most 600 characters."),
    "a long text": ("type", "x" * 601, "write at most 600 characters."),
    "one for a list": ("multiples", 2.0, "give the values as a list."),
    "a word for a truth": ("ct_gapped", "yes", "'yes' is none of yes, no."),
    "a word that is none": (
        "conductor",
        "zinc",
        "'zinc' is none of copper, aluminium.",
    ),
}


@pytest.mark.parametrize(("name", "value", "said"), STORED.values(), ids=STORED)
def test_a_value_that_is_stored_must_fit(name: str, value: Any, said: str) -> None:
    with pytest.raises(InputError) as caught:
        check_value(name, value)
    assert said in caught.value.faults[0].message
    assert caught.value.faults[0].message.startswith(field(name).label)


def test_a_value_that_fits_comes_back_as_it_was() -> None:
    for name, value in (("rated_kv", 15.0), ("fuse_a", 80), ("serial", "V-1")):
        assert check_value(name, value) is value
    assert check_value("multiples", [2.0, 3.0]) == [2.0, 3.0]


def test_the_table_holds_what_the_programme_needs() -> None:
    assert len(FIELDS) >= 210
    assert {one.name for one in fields("condition")} >= {"test_kv", "emissivity"}
    assert find_field("picup_a") is None


@pytest.mark.parametrize("name", FIELDS)
def test_a_number_at_the_ends_of_its_range(name: str) -> None:
    about = FIELDS[name]
    if about.kind is not Kind.NUMBER:
        return
    ends = {"least": True, "greatest": True, "above": False, "below": False}
    for end, allowed in ends.items():
        if (value := getattr(about, end)) is not None:
            assert about.allows(float(value)) is allowed
