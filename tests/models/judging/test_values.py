"""What was typed: numbers, bounds, outcomes, and what is refused with a remedy."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import InputError
from models.judging import Interval, Outcome, parse_number, parse_value

READ: dict[str, tuple[str, Interval | Outcome]] = {
    "a decimal": ("4.2", Interval(4.2, 4.2)),
    "an integer": ("5000", Interval(5000, 5000)),
    "trailing zeros": ("5.00", Interval(5, 5)),
    "no digit before the point": (".5", Interval(0.5, 0.5)),
    "no digit after the point": ("5.", Interval(5, 5)),
    "an exponent": ("3e-4", Interval(3e-4, 3e-4)),
    "a capital exponent": ("3E+4", Interval(3e4, 3e4)),
    "a sign": ("+7", Interval(7, 7)),
    "a negative number": ("-7", Interval(-7, -7)),
    "zero": ("0", Interval(0, 0)),
    "over range": (">200", Interval(200, None)),
    "over range, spaced": (" > 200 ", Interval(200, None)),
    "under range": ("<0.01", Interval(None, 0.01)),
    "spaces around": ("  4.2\t", Interval(4.2, 4.2)),
    "no-break spaces around": ("\u00a04.2\u202f", Interval(4.2, 4.2)),
    "a byte order mark before": ("\ufeff4.2", Interval(4.2, 4.2)),
    "held": ("held", Outcome.HELD),
    "broke_down, spaced": (" broke_down ", Outcome.BROKE_DOWN),
    "no_trip": ("no_trip", Outcome.NO_TRIP),
}


@pytest.mark.parametrize(("text", "value"), READ.values(), ids=READ)
def test_it_is_read(text: str, value: Interval | Outcome) -> None:
    assert parse_value(text) == value


@pytest.mark.parametrize("text", ["-0", "-0.0", "-0e5", ">-0", "<-0"])
def test_minus_zero_is_zero_in_the_record_and_in_its_log(text: str) -> None:
    value = parse_value(text)
    assert isinstance(value, Interval)
    assert str(value.bound) == "0.0"


REFUSED: dict[str, tuple[str, str]] = {
    "nothing": ("", "Enter a value"),
    "spaces only": ("   ", "Enter a value"),
    "a sign without a number": (">", "Enter a value"),
    "a decimal comma": ("4,2", "decimal point"),
    "a thousands comma": ("1,200", "thousands separators"),
    "a thousands space": ("1 200", "separator"),
    "a thousands no-break space": ("1\u00a0200", "separator"),
    "an apostrophe": ("1'200", "separator"),
    "an underscore": ("1_200", "separator"),
    "words": ("good", "not a number"),
    "a number and a unit": ("4.2 GOhm", "separator"),
    "two points": ("4.2.1", "not a number"),
    "not a number": ("nan", "not a number"),
    "infinity": ("inf", "not a number"),
    "hexadecimal": ("0x10", "not a number"),
    "another script's digits": ("\u0664\u0662", "not a number"),
    "full-width digits": ("\uff14", "not a number"),
    "at least, as a sign": ("\u2265200", "not a number"),
    "two signs": (">>200", "not a number"),
    "an absurd exponent": ("1e300", "proportion"),
    "an exponent beyond floating point": ("1e999", "proportion"),
    "an outcome in capitals": ("HELD", "not a number"),
}


@pytest.mark.parametrize(("text", "remedy"), REFUSED.values(), ids=REFUSED)
def test_it_is_refused_with_a_remedy(text: str, remedy: str) -> None:
    with pytest.raises(InputError, match=remedy) as caught:
        parse_value(text)
    assert [fault.field for fault in caught.value.faults] == ["value"]


@pytest.mark.parametrize("text", [">4", "<4", "held", ""])
def test_a_plain_number_is_neither_bound_nor_outcome(text: str) -> None:
    with pytest.raises(InputError):
        parse_number(text)


INTERVALS: dict[str, tuple[str, bool, float]] = {
    "an exact one": ("4.2", True, 4.2),
    "an over-range one": (">4.2", False, 4.2),
    "an under-range one": ("<4.2", False, 4.2),
}


@pytest.mark.parametrize(("text", "exact", "bound"), INTERVALS.values(), ids=INTERVALS)
def test_an_interval_knows_what_was_shown(text: str, exact: bool, bound: float) -> None:
    value = parse_value(text)
    assert isinstance(value, Interval)
    assert (value.exact, value.bound) == (exact, bound)


numbers = st.floats(min_value=-1e29, max_value=1e29, allow_nan=False)


@pytest.mark.property
@given(number=numbers)
def test_what_python_writes_is_read_back_the_same(number: float) -> None:
    assert parse_number(repr(number)) == number


@pytest.mark.property
@given(text=st.text(max_size=20))
def test_any_text_is_a_value_or_refused_on_purpose(text: str) -> None:
    try:
        value = parse_value(text)
    except InputError:
        return
    if isinstance(value, Interval):
        assert math.isfinite(value.bound)


@pytest.mark.property
@given(number=numbers, left=st.text(" \t\u00a0\ufeff", max_size=3))
def test_blanks_around_change_nothing(number: float, left: str) -> None:
    assert parse_value(f"{left}{number!r}{left}") == parse_value(repr(number))


REFUSED_IN_FULL: dict[str, tuple[str, str]] = {
    "a comma": (
        "4,2",
        "'4,2' has a comma: write the decimal point as '.', and no thousands "
        "separators.",
    ),
    "an apostrophe": (
        "1'000",
        "'1'000' has a separator or a unit in it: write only the digits.",
    ),
    "an underscore": (
        "1_000",
        "'1_000' has a separator or a unit in it: write only the digits.",
    ),
    "a word": (
        "fine",
        "'fine' is not a number: write 4.2, >200 when the instrument is over range, "
        "<0.01 when it is under range.",
    ),
}


@pytest.mark.parametrize(
    ("text", "message"), REFUSED_IN_FULL.values(), ids=REFUSED_IN_FULL
)
def test_the_whole_message_says_what_to_write(text: str, message: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_value(text)
    assert [fault.message for fault in caught.value.faults] == [message]


# One of each of Unicode's blanks: space, line, paragraph, format, control.
BLANKS = ("\u00a0", "\u202f", "\u2028", "\u2029", "\u200b", "\ufeff", "\u0085", "\t")


@pytest.mark.parametrize("blank", BLANKS, ids=lambda blank: f"U+{ord(blank):04X}")
def test_a_blank_of_any_kind_is_dropped_outside_and_refused_inside(blank: str) -> None:
    assert parse_value(f"{blank}4.2{blank}") == parse_value("4.2")
    with pytest.raises(InputError, match="separator"):
        parse_value(f"4{blank}2")
