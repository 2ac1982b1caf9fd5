"""What an instrument reads and applies as text, and back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.record.instrument import PARTS, Range
from models.record.instrument_text import (
    applies_text,
    read_applies,
    read_reads,
    reads_text,
)

READS: dict[str, tuple[str, list[Range]]] = {
    "nothing": ("", []),
    "ranges with every part": (
        "0..10 GOhm: 5% + 0.02; 10..1000 GOhm: 10% + 2% range + 3 digits of 0.1",
        [
            Range(unit="GOhm", low=0, high=10, pct_reading=5, fixed=0.02),
            Range(
                unit="GOhm",
                low=10,
                high=1000,
                pct_reading=10,
                pct_range=2,
                digits=3,
                resolution=0.1,
            ),
        ],
    ),
    "without an accuracy": (
        "0..10 V ac",
        [Range(unit="V", supply="ac", low=0, high=10)],
    ),
    "without ends": (
        "s: 0.05% + 0.001",
        [Range(unit="s", pct_reading=0.05, fixed=0.001)],
    ),
}
APPLIES: dict[str, tuple[str, list[Range]]] = {
    "two supplies": (
        "0.5..60 kV ac; 0.5..80 kV dc",
        [
            Range(does="applies", unit="kV", supply="ac", low=0.5, high=60),
            Range(does="applies", unit="kV", supply="dc", low=0.5, high=80),
        ],
    ),
    "not said how far": ("A dc", [Range(does="applies", unit="A", supply="dc")]),
}


@pytest.mark.parametrize(("text", "ranges"), READS.values(), ids=READS)
def test_what_it_reads_is_read_and_written(text: str, ranges: list[Range]) -> None:
    assert read_reads(text) == ranges
    assert reads_text(ranges) == text


@pytest.mark.parametrize(("text", "ranges"), APPLIES.values(), ids=APPLIES)
def test_what_it_applies_is_read_and_written(text: str, ranges: list[Range]) -> None:
    assert read_applies(text) == ranges
    assert applies_text(ranges) == text


@pytest.mark.parametrize("text", ["5%", "10..0 GOhm", "0..10: 5%", "furlong: 5%"])
def test_what_is_no_range_is_refused_with_the_form(text: str) -> None:
    with pytest.raises(InputError, match=r"write for example 0\.\.10 GOhm"):
        read_reads(text)
    with pytest.raises(InputError, match=r"write for example 0\.25\.\.5 kV"):
        read_applies("0..10 furlong")


NUMBER = st.decimals(0, 1000, places=3).map(float)
ABOVE = st.decimals(1, 1000, places=3).map(float)


@pytest.mark.property
@settings(deadline=None)
@given(
    low=NUMBER,
    width=ABOVE,
    supply=st.sampled_from((None, "ac", "dc")),
    parts=st.fixed_dictionaries({name: ABOVE | st.none() for name in PARTS}),
)
def test_what_is_written_is_read_again(
    low: float, width: float, supply: str | None, parts: dict[str, float | None]
) -> None:
    if parts["digits"] is None or parts["resolution"] is None:
        parts |= {"digits": None, "resolution": None}
    high = round(low + width, 3)
    one = Range(unit="MOhm", supply=supply, low=low, high=high, **parts)
    assert read_reads(reads_text([one])) == [one]
