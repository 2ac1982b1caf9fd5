"""The two worked days of the reference, section 3, replayed through the core."""

from collections.abc import Mapping
from typing import Any

import pytest

from models.criteria.safety import Work
from tests.models.criteria.safety.working_days import (
    gas_insulated_day,
    metal_clad_day,
)
from tests.models.record.safety.played_day import PlayedDay

Json = dict[str, Any]


def items(register: str, *kinds: str) -> list[Json]:
    """Return the items of a register, one of each kind given."""
    return [
        {"item": f"{register}{number}", "fields": {f"{register}_kind": kind}}
        for number, kind in enumerate(kinds, start=1)
    ]


def sources(*kinds: str) -> list[Json]:
    """Return the sources of a clearance; beyond each gap nothing is live."""
    found = items("source", *kinds)
    return [{**one, "fields": {**one["fields"], "beyond": "dead"}} for one in found]


def grounds(*kinds: str) -> list[Json]:
    """Return a ground for each cell."""
    return [
        {"item": f"g{number}", "fields": {"ground_kind": kind}}
        for number, kind in enumerate(kinds, start=1)
    ]


PUT_BACK = items("put_back", "CT_link", "cable", "trip_link")
METAL_CLAD = {
    "set": items("set", "set above 1 kV"),
    "source": sources("line", "line", "VT", "tie", "heater", "control_transformer"),
    "ground": grounds(*["portable"] * 6),
    "put_back": PUT_BACK,
}
GAS_INSULATED = {
    "set": items("set", "set above 1 kV"),
    "place": items("place", "cable_basement"),
    "source": sources("line", "line", "VT", "heater"),
    "ground": grounds("grounding_switch", "grounding_switch", "breaker"),
    "put_back": PUT_BACK,
}


# Cell by cell. A cell with a relay asks six lines when it is entered again (W2 too,
# which the reference's five leave out): so bus A waits for the last of its cells. In
# gas-insulated gear the bus waits for the insulation of all that shares it.
METAL_CLAD_VISITS = "2 3 4 break 1 1-bus 5-bus 5 6 break"
GAS_INSULATED_VISITS = "1 2 3 break 2 2-bus"


def play(work: Work, registers: Mapping[str, list[Json]], visits: str) -> PlayedDay:
    """Play a day: the cards of a cell at each visit, those of its bus by themselves."""
    day = PlayedDay(work, registers)
    day.begin()
    day.visit(visits)
    day.give_back()
    return day


@pytest.fixture(scope="module")
def metal_clad() -> PlayedDay:
    return play(metal_clad_day(), METAL_CLAD, METAL_CLAD_VISITS)


@pytest.fixture(scope="module")
def gas_insulated() -> PlayedDay:
    return play(gas_insulated_day(), GAS_INSULATED, GAS_INSULATED_VISITS)


def test_the_metal_clad_day(metal_clad: PlayedDay) -> None:
    """At most 353 confirmations for 23 cards (934 before), each of them so."""
    assert len(metal_clad.readings) == 23
    assert metal_clad.count.total() <= 353
    assert metal_clad.count == {
        "crew": 17,
        "isolation": 38,
        "point": 79,  # 69 at the first entry, five at each of two more
        "test": 123,
        "after": 69,
        "return": 27,
    }


def test_the_gas_insulated_day(gas_insulated: PlayedDay) -> None:
    """At most 201 confirmations for 10 cards (405 before), each of them so."""
    assert len(gas_insulated.readings) == 10
    assert gas_insulated.count.total() <= 201
    assert gas_insulated.count == {
        "crew": 19,
        "isolation": 25,
        "point": 42,
        "test": 69,
        "after": 29,
        "return": 17,
    }


@pytest.mark.parametrize("day", ["metal_clad", "gas_insulated"])
def test_every_reading_of_the_day_was_taken_on_standing_scopes(
    day: str, request: pytest.FixtureRequest
) -> None:
    played: PlayedDay = request.getfixturevalue(day)
    safety = played.safety()
    assert [safety.outside(card) for card in played.readings] == [
        [] for _ in played.readings
    ]
    site = safety.site(played.at)
    assert [one["state"] for one in site["isolations"]] == ["ended"]
