"""Rows of readings: read as typed, refused with their place, and their ratios."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import InputError
from models.judging import Interval
from models.judging.series import (
    LEAKAGE,
    SERIES,
    TIMED,
    Step,
    absorption_ratio,
    apparent_resistance_gohm,
    parse_series,
    polarization_index,
    series_text,
)

READ: dict[str, tuple[str, list[tuple[float, str, Interval]]]] = {
    "one": ("60:3", [(60.0, "3", Interval(3, 3))]),
    "as typed": (
        "15:1.20 30:.5",
        [(15.0, "1.20", Interval(1.2, 1.2)), (30.0, ".5", Interval(0.5, 0.5))],
    ),
    "over range": ("60:>200", [(60.0, ">200", Interval(200, None))]),
    "under range": ("60:<0.01", [(60.0, "<0.01", Interval(None, 0.01))]),
    "a broken step": ("2.5:4", [(2.5, "4", Interval(4, 4))]),
    "blanks of every kind": (
        " 15:1\t30:2\u00a0\n60:3 ",
        [(a, t, Interval(float(t), float(t))) for a, t in ((15, "1"), (30, "2"))]
        + [(60, "3", Interval(3, 3))],
    ),
}


@pytest.mark.parametrize(("text", "steps"), READ.values(), ids=READ)
def test_it_is_read(text: str, steps: list[tuple[float, str, Interval]]) -> None:
    assert parse_series("timed", text) == tuple(Step(*step) for step in steps)


REFUSED: dict[str, tuple[str, str]] = {
    "nothing": ("", "No readings"),
    "blanks only": ("  \n", "No readings"),
    "a value alone": ("3.0", "'3.0' is not s:value"),
    "no value": ("60:", "'60:' is not s:value"),
    "no step": (":3", "':3' is not s:value"),
    "a decimal comma": ("60:3,0", "decimal point"),
    "a step with a comma": ("2,5:3", "At 2,5:3"),
    "a time of day": ("1:30:2", "At 1:30:2"),
    "no number": ("60:NaN", "not a number"),
    "infinite": ("60:inf", "not a number"),
    "an outcome": ("60:held", "enter a number"),
    "a bound as a step": (">60:3", "not a plain number"),
    "a step of nought": ("0:3", "below zero"),
    "a negative step": ("-60:3", "below zero"),
    "a negative value": ("60:-3", "below zero"),
    "twice": ("60:3 60:4", "rising order"),
    "twice, written apart": ("60:3 6e1:4", "rising order"),
    "falling": ("60:3 30:4", "30 s comes after 60 s"),
    "too many": (" ".join(f"{n}:1" for n in range(1, 42)), "40 readings"),
    "too long": ("60:3" + " " * TIMED.longest, "600 characters"),
}


@pytest.mark.parametrize(("text", "said"), REFUSED.values(), ids=REFUSED)
def test_it_is_refused_with_its_place(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_series("timed", text)
    (fault,) = caught.value.faults
    assert fault.field == "timed"
    assert said in fault.message


# row -> (polarization index, absorption ratio)
RATIOS: dict[str, tuple[str, Interval | None, Interval | None]] = {
    # 10 min over 1 min, and 60 s over 30 s: docs/criteria.md.
    "both": ("30:2 60:3 600:6", Interval(2, 2), Interval(1.5, 1.5)),
    "no ten minutes": ("30:2 60:3", None, Interval(1.5, 1.5)),
    "no half minute": ("60:3 600:6", Interval(2, 2), None),
    "no minute": ("30:2 600:6", None, None),
    "over range at ten": ("60:3 600:>6", Interval(2, None), None),
    "over range at one": ("60:>3 600:6", Interval(None, 2), None),
    "over range at both": ("60:>3 600:>6", None, None),
    "under range at one": ("60:<3 600:6", Interval(2, None), None),
    "nothing at one": ("60:0 600:6", None, None),
}


@pytest.mark.parametrize(("text", "index", "ratio"), RATIOS.values(), ids=RATIOS)
def test_ratios(text: str, index: Interval | None, ratio: Interval | None) -> None:
    steps = parse_series("timed", text)
    assert polarization_index(steps) == index
    assert absorption_ratio(steps) == ratio


def test_kilovolts_over_microamperes_are_gigaohms() -> None:
    """37.5 kV and 15 µA: 37 500 V / 15e-6 A = 2.5e9 ohm."""
    exact, none, bound = parse_series("leakage", "37.5:15 40:0 50:>20")
    assert apparent_resistance_gohm(exact) == 2.5
    assert apparent_resistance_gohm(none) is None
    assert apparent_resistance_gohm(bound) is None


def test_the_usual_times_hold_those_of_both_ratios() -> None:
    assert {30, 60, 600} <= set(TIMED.usual)
    assert list(TIMED.usual) == sorted(set(TIMED.usual))
    assert LEAKAGE.only == (("supply", "dc"), ("method", "dc"))
    assert all(name == kind.name for name, kind in SERIES.items())


# kind, row -> its values, or what is said of it
KINDS: dict[str, tuple[str, str, list[float] | str]] = {
    "a record begins at the command": ("coil_record", "0:0 5:1.9", [0, 1.9]),
    "a contact rebounds": ("travel", "0:0 40:12.1 60:-0.4", [0, 12.1, -0.4]),
    "no current below zero": ("coil_record", "0:0 5:-1.9", "below zero"),
    "no exciting current below zero": ("excitation", "100:-0.02", "below zero"),
    "no resistance below zero": ("fall", "10:-1.2", "below zero"),
    "no leakage below zero": ("held_leakage", "1:-2", "below zero"),
    "no minute twice": ("held_leakage", "1:2 1:3", "rising order"),
    "no time below zero": ("travel", "-1:0", "below zero"),
    "no curve at no voltage": ("excitation", "0:0 100:0.02", "below zero"),
    "a shield that conducts": ("tan_delta", "0.5:-0.2 1:0.1", [-0.2, 0.1]),
    "a day of pressures": ("gas_log", "0:151.2 24:151.1", [151.2, 151.1]),
    "a long record": ("travel", " ".join(f"{n}:1" for n in range(250)), [1.0] * 250),
    "a longer one": ("travel", " ".join(f"{n}:1" for n in range(251)), "250 readings"),
}


@pytest.mark.parametrize(("kind", "text", "found"), KINDS.values(), ids=KINDS)
def test_each_kind_has_its_own_ends(
    kind: str, text: str, found: list[float] | str
) -> None:
    if isinstance(found, list):
        assert [step.value.bound for step in parse_series(kind, text)] == found
        return
    with pytest.raises(InputError, match=found):
        parse_series(kind, text)


@pytest.mark.property
@given(
    st.dictionaries(
        st.integers(1, 10_000), st.floats(0, 1e6).map(repr), min_size=1, max_size=16
    )
)
def test_what_was_read_can_be_written_and_read_again(row: dict[int, str]) -> None:
    text = " ".join(f"{at}:{row[at]}" for at in sorted(row))
    steps = parse_series("timed", text)
    assert series_text(steps) == text
    assert parse_series("timed", series_text(steps)) == steps


@pytest.mark.property
@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        steps = parse_series("steps", text)
    except InputError:
        return
    assert parse_series("steps", series_text(steps)) == steps
