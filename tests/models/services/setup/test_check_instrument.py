"""What no instrument can say of itself is refused, with its place."""

import pytest

from models.errors import InputError
from models.record.instrument import Range
from models.services.setup.check_instrument import MOST_RANGES, check_instrument

IR, CR, RT = ["insulation_resistance"], ["contact_resistance"], ["relay_timing"]
GOOD = Range(unit="GOhm", low=0, high=10, pct_reading=5, fixed=0.02)
KV = Range(does="applies", unit="kV", supply="dc", low=0.25, high=5)

TAKEN: dict[str, tuple[list[str], list[Range]]] = {
    "nothing said": (IR, []),
    "a range and what it applies": (IR, [GOOD, KV]),
    "an accuracy for all it shows": (IR, [Range(pct_reading=5)]),
    "another unit of the quantity": (RT, [Range(unit="ms", fixed=5.0)]),
    "a unit of one of its procedures": (CR + RT, [Range(unit="mOhm", fixed=0.1)]),
    "a range below zero": (IR, [Range(unit="GOhm", low=-1, high=10)]),
    "a supply alone": (["dielectric_withstand"], [Range(does="applies", unit="kV")]),
    "ac and dc apart": (
        RT,
        [Range(unit="s", supply="ac"), Range(unit="s", supply="dc")],
    ),
}


@pytest.mark.parametrize(("procedures", "ranges"), TAKEN.values(), ids=TAKEN)
def test_it_is_taken(procedures: list[str], ranges: list[Range]) -> None:
    check_instrument(procedures, ranges)


REFUSED: dict[str, tuple[list[str], list[Range], str]] = {
    "a procedure that is none": (["x"], [], "procedures"),
    "too many ranges": (IR, [GOOD] * (MOST_RANGES + 1), "ranges"),
    "neither reads nor applies": (IR, [Range(does="sings")], "ranges.0.does"),
    "a supply that there is not": (
        IR,
        [GOOD, Range(supply="steam")],
        "ranges.1.supply",
    ),
    "a unit of another quantity": (RT, [Range(unit="Ohm")], "ranges.0.unit"),
    "a unit that is not ours": (CR, [Range(unit="m\u03a9")], "ranges.0.unit"),
    "a time that is applied": (RT, [Range(does="applies", unit="s")], "ranges.0.unit"),
    "ends without a unit": (IR, [Range(low=0, high=1)], "ranges.0.unit"),
    "one end alone": (IR, [Range(unit="GOhm", high=1)], "ranges.0.low"),
    "the ends turned round": (IR, [Range(unit="GOhm", low=2, high=1)], "ranges.0.high"),
    "a percentage below zero": (IR, [Range(pct_reading=-1)], "ranges.0.pct_reading"),
    "a number that is none": (IR, [Range(fixed=float("nan"))], "ranges.0.fixed"),
    "percent of no range": (IR, [Range(pct_range=1)], "ranges.0.pct_range"),
    "digits of nothing": (IR, [Range(digits=3)], "ranges.0.resolution"),
    "what is applied with an accuracy": (
        IR,
        [Range(does="applies", unit="kV", fixed=1)],
        "ranges.0.pct_reading",
    ),
    "no ends beside another range": (
        IR,
        [GOOD, Range(unit="MOhm", pct_reading=1)],
        "ranges.1.low",
    ),
}


@pytest.mark.parametrize(
    ("procedures", "ranges", "field"), REFUSED.values(), ids=REFUSED
)
def test_it_is_refused_at_its_place(
    procedures: list[str], ranges: list[Range], field: str
) -> None:
    with pytest.raises(InputError) as caught:
        check_instrument(procedures, ranges)
    assert [fault.field for fault in caught.value.faults] == [field]
