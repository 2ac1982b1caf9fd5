"""A reading that its instrument cannot have taken is kept, and unjudged."""

from typing import Any

import pytest

from models.errors import InputError
from models.schema import Instrument
from models.services.keeping.check_record import check_record
from models.services.setup import assets
from models.words import say
from tests.scenario import DW, IR, TEST_FIRM, Work, fixed_id

READINGS: dict[str, tuple[str, dict[str, Any], str, str, str]] = {
    "dc from an ac set": ("HV-1", {"supplies": ["dc"]}, DW, "held", "supply"),
    "27 kV from a 5 kV one": (
        "HV-1",
        {"greatest": {"test_kv": 5}},
        DW,
        "held",
        "level",
    ),
    "300 GOhm on a tester to 200": (
        "IR-1",
        {"greatest": {"reading": 200000, "reading_unit": "MOhm"}},
        IR,
        "300",
        "reading",
    ),
}


@pytest.mark.parametrize(
    ("tag", "able", "procedure", "text", "why"), READINGS.values(), ids=READINGS
)
def test_it_is_unjudged_with_that_reason(
    confirmed: Work, tag: str, able: dict[str, Any], procedure: str, text: str, why: str
) -> None:
    instrument = confirmed.session.get_one(Instrument, fixed_id(tag))
    for name, value in able.items():
        setattr(instrument, name, value)
    confirmed.read("bus", procedure, text)
    facts = confirmed.facts("bus", procedure)
    (reading,) = facts.current
    said, reason = facts.say(reading.judgement), say(f"instrument.{why}")
    assert (reading.judgement.verdict, said["reason"]) == ("unjudged", reason)
    assert reason in said["working"]
    assert check_record(confirmed.session).faults == []


def test_outside_stays_outside(confirmed: Work) -> None:
    """A bad number is not excused by a wrong instrument."""
    instrument = confirmed.session.get_one(Instrument, fixed_id("HV-1"))
    instrument.greatest = {"test_kv": 5}
    confirmed.read("bus", DW, "broke_down")
    assert set(confirmed.verdicts("bus", DW).values()) == {"outside"}


def test_within_its_range_nothing_changes(confirmed: Work) -> None:
    instrument = confirmed.session.get_one(Instrument, fixed_id("HV-1"))
    instrument.supplies, instrument.greatest = ["ac"], {"test_kv": 100}
    confirmed.read("bus", DW, "held")
    assert set(confirmed.verdicts("bus", DW).values()) == {"within"}
    (reading,) = confirmed.facts("bus", DW).current
    assert "instrument_limit" not in reading.conditions


@pytest.mark.any_database
def test_nobody_sends_it(confirmed: Work) -> None:
    card = confirmed.card("bus", DW)
    conditions = {"supply": "ac", "test_kv": 27, "instrument_limit": "level"}
    entry = confirmed.reading(card, card.points[0], "held", conditions=conditions)
    (answer,) = confirmed.send(entry)
    assert answer["status"] == "refused"


REFUSED: dict[str, dict[str, Any]] = {
    "a supply that there is not": {"supplies": ["steam"]},
    "a level that it is not asked for": {"greatest": {"duration_s": 5}},
    "a level of nothing": {"greatest": {"test_kv": 0}},
    "a range without a unit": {"greatest": {"reading": 200}},
    "a range in another unit": {"greatest": {"reading": 2, "reading_unit": "s"}},
}


@pytest.mark.parametrize("able", REFUSED.values(), ids=REFUSED)
@pytest.mark.any_database
def test_what_a_register_does_not_take(opened: Work, able: dict[str, Any]) -> None:
    with pytest.raises(InputError):
        assets.add_instrument(
            opened.session,
            instrument_id=fixed_id("IR-9"),
            organisation_id=fixed_id(TEST_FIRM),
            tag="IR-9",
            name="insulation tester",
            serial="9",
            procedures=[IR],
            accuracy_pct=None,
            accuracy_fixed=None,
            accuracy_unit=None,
            **able,
        )
