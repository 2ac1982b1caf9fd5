"""A reading that its instrument cannot have taken is kept, and unjudged."""

import pytest

from models.record.instrument import Range
from models.schema import Instrument
from models.services.keeping.check_record import check_record
from models.services.setup.instrument_ranges import rows_of
from models.words import say
from tests.scenario import DW, IR, Work, fixed_id


def able(work: Work, tag: str, *ranges: Range) -> None:
    """Give an instrument of the register these ranges."""
    instrument = work.session.get_one(Instrument, fixed_id(tag))
    instrument.ranges.clear()
    work.session.flush()
    instrument.ranges.extend(rows_of(instrument.id, ranges))
    work.session.flush()


def applies(supply: str, high: float) -> Range:
    return Range(does="applies", unit="kV", supply=supply, low=0, high=high)


READINGS: dict[str, tuple[str, Range, str, str, str]] = {
    "dc from an ac set": ("HV-1", applies("dc", 100), DW, "held", "supply"),
    "27 kV from a 5 kV one": ("HV-1", applies("ac", 5), DW, "held", "level"),
    "300 GOhm on a tester to 200": (
        "IR-1",
        Range(unit="MOhm", low=0, high=200000),
        IR,
        "300",
        "reading",
    ),
}


@pytest.mark.parametrize(
    ("tag", "range_", "procedure", "text", "why"), READINGS.values(), ids=READINGS
)
def test_it_is_unjudged_with_that_reason(
    confirmed: Work, tag: str, range_: Range, procedure: str, text: str, why: str
) -> None:
    able(confirmed, tag, range_)
    confirmed.read("bus", procedure, text)
    facts = confirmed.facts("bus", procedure)
    (reading,) = facts.current
    said, reason = facts.say(reading.judgement), say(f"instrument.{why}")
    assert (reading.judgement.verdict, said["reason"]) == ("unjudged", reason)
    assert reason in said["working"]
    assert check_record(confirmed.session).faults == []


def test_outside_stays_outside(confirmed: Work) -> None:
    """A bad number is not excused by a wrong instrument."""
    able(confirmed, "HV-1", applies("ac", 5))
    confirmed.read("bus", DW, "broke_down")
    assert set(confirmed.verdicts("bus", DW).values()) == {"outside"}


def test_within_its_range_nothing_changes(confirmed: Work) -> None:
    able(confirmed, "HV-1", applies("ac", 100))
    confirmed.read("bus", DW, "held")
    assert set(confirmed.verdicts("bus", DW).values()) == {"within"}
    (reading,) = confirmed.facts("bus", DW).current
    assert "instrument_limit" not in reading.conditions


def test_a_reading_keeps_the_accuracies_of_its_ranges(confirmed: Work) -> None:
    """8 GOhm takes the lower range: U = 2 x (0.4 + 0.02) / sqrt(3) = 0.485 GOhm."""
    able(
        confirmed,
        "IR-1",
        Range(unit="GOhm", low=0, high=10, pct_reading=5, fixed=0.02),
        Range(unit="GOhm", low=10, high=100, pct_reading=10),
    )
    confirmed.read("bus", IR, "8")
    facts = confirmed.facts("bus", IR)
    (reading,) = facts.current
    assert [one["high"] for one in reading.accuracy["ranges"]] == [10, 100]
    said = " ".join(facts.say(reading.judgement)["working"])
    assert "of the range 0 to 10 G\u03a9" in said
    assert reading.judgement.uncertainty == pytest.approx(485.0, rel=2e-3)
    assert check_record(confirmed.session).faults == []


@pytest.mark.any_database
def test_nobody_sends_it(confirmed: Work) -> None:
    card = confirmed.card("bus", DW)
    conditions = {"supply": "ac", "test_kv": 27, "instrument_limit": "level"}
    entry = confirmed.reading(card, card.points[0], "held", conditions=conditions)
    (answer,) = confirmed.send(entry)
    assert answer["status"] == "refused"
