"""A line is asked unless it is known not to apply; what is known of gear and work."""

from collections.abc import Mapping, Sequence

import pytest

from models.criteria.safety import (
    PlannedCard,
    Work,
    WorkCell,
    card_lists,
    crew_codes,
    isolation_codes,
    point_codes,
)
from models.criteria.safety.asked import rests_on
from models.criteria.safety.facts import card_facts, cell_facts
from models.criteria.safety.words import CARD_FACTS, CELL_FACTS

IR, CR, RELAY = "insulation_resistance", "contact_resistance", "relay_timing"


def work(
    *kinds: str,
    gear: str = "metal_clad",
    drawn: str = "",
    cards: Sequence[tuple[str, str]] = ((IR, "bus"),),
    known: Mapping[str, bool] | None = None,
    of_card: Mapping[str, bool] | None = None,
) -> Work:
    """One cell with these kinds; each card a procedure and the kind it is done on."""
    return Work(
        gear=gear,
        cells=[WorkCell(id="1", bus="A", kinds=kinds, drawn=drawn)],
        cards=[
            PlannedCard(
                id=f"{procedure} {kind}",
                procedure=procedure,
                apparatus=kind,
                kind=kind,
                cell="1",
                known=of_card or {},
            )
            for procedure, kind in cards
        ],
        known=known or {},
    )


def point(made: Work) -> list[str]:
    return point_codes(made, made.cells[0])


def before(made: Work, choice: str = "") -> list[str]:
    return card_lists(made, made.cards[0])["lists"][choice]["before"]


NEW, LOADED = {"carried_load": False}, {"carried_load": True}
# made work -> codes that have to be asked at the cell, and codes that must not be
CELLS = {
    "nothing is known of it": (work(), "G09a W1", ""),
    "a voltage transformer alone": (work(drawn="vt"), "W1 G10b G13e", "G09a CR3a"),
    "a bus tie has a spring": (work(drawn="bus_tie"), "G09a", ""),
    "transformers for the relay": (
        work("breaker", "ct", cards=[(CR, "breaker")]),
        "CR3a",
        "",
    ),
    "relay work alone": (work("relay", cards=[(RELAY, "relay")]), "RS3a W2", "G10a W1"),
    "gas": (work("bus", gear="gas_insulated"), "G10c HV6a", "G10b W1 G23b GH7"),
    "a switch in gas": (
        work("three_position_switch", gear="gas_insulated"),
        "GH7 G09a",
        "",
    ),
    "metal-enclosed": (work("switch", gear="metal_enclosed"), "G10b G23b", "W1 HV6a"),
}


@pytest.mark.parametrize("name", CELLS)
def test_a_cell_is_asked_what_it_may_have(name: str) -> None:
    made, asked, not_asked = CELLS[name]
    codes = set(point(made))
    assert set(asked.split()) - codes == set()
    assert codes & set(not_asked.split()) == set()


def test_a_low_voltage_compartment_alone_asks_two_lines() -> None:
    made = work("breaker", "relay", "ct", cards=[(RELAY, "relay")], known=NEW)
    assert point(made) == ["RS3a", "W2"]


CARDS = {
    "wiring is fed by the instrument alone": (
        work(cards=[(IR, "control_wiring")]),
        "T6 T7 T2 T5",
    ),
    "a breaker of metal-clad gear is withdrawn": (
        work("breaker", cards=[(IR, "breaker")]),
        "T12 CR2a T2 T5",
    ),
    "one that is said to be fixed": (
        work("breaker", cards=[(IR, "breaker")], of_card={"withdrawn": False}),
        "T6 IR2a CR2a T2 T4 T3 IR3a T5",
    ),
    "a breaker in metal-enclosed gear is fixed": (
        work("breaker", gear="metal_enclosed", cards=[(IR, "breaker")]),
        "T6 IR2a CR2a T2 T4 T3 IR3a T5",
    ),
    "a switch may trip: asked": (
        work("switch", gear="metal_enclosed", cards=[(CR, "switch")], known=NEW),
        "CR1a IR2a CR2a T3 CR4a T2 T5",
    ),
    "a three-position switch trips nothing": (
        work(
            "three_position_switch",
            gear="gas_insulated",
            cards=[(CR, "three_position_switch")],
            known=NEW,
        ),
        "CR1a IR2a T3 CR4a T2 T5",
    ),
    "dc through a transformer whose relay may be in service": (
        work("breaker", gear="gas_insulated", cards=[(CR, "breaker")], known=LOADED),
        "CR1a IR2a CR2a CR3b T3 CR4a T2 T5",
    ),
}


@pytest.mark.parametrize("name", CARDS)
def test_a_card_asks_the_list_of_what_it_is_done_on(name: str) -> None:
    made, codes = CARDS[name]
    assert before(made) == codes.split()


@pytest.mark.parametrize(
    ("known", "asked"), [(NEW, False), (LOADED, True), ({}, True)], ids=str
)
def test_switching_is_asked_of_gear_that_may_have_carried_load(
    known: Mapping[str, bool], asked: bool
) -> None:
    assert ("G06a" in isolation_codes([work(known=known)])) == asked


def test_devices_in_service_are_agreed_where_a_test_may_trip_them() -> None:
    gas = {"gear": "gas_insulated", "cards": [(CR, "breaker")]}
    assert "RS2a" in isolation_codes([work("relay", cards=[(RELAY, "relay")])])
    assert "RS2a" in isolation_codes([work("breaker", **gas, known=LOADED)])
    assert "RS2a" not in isolation_codes([work("breaker", **gas, known=NEW)])


def test_a_crew_on_two_lineups_is_asked_for_both() -> None:
    relays = work("relay", cards=[(RELAY, "relay")])
    assert "G23a" not in crew_codes([relays])
    assert "G23a" in crew_codes([relays, work("bus")])


def test_racking_rests_on_the_crew_alone_unless_the_gear_never_was_live() -> None:
    assert rests_on(work(known=LOADED), "RK") == ["crew"]
    assert rests_on(work(), "RK") == ["crew"]
    assert rests_on(work(known=NEW), "RK") == ["crew", "isolation", "point"]
    assert rests_on(work(known=NEW), "GR") == ["crew"]


def test_a_withstand_without_an_insulation_card_waits_for_one() -> None:
    made = work("bus", cards=[("dielectric_withstand", "bus")])
    found = card_lists(made, made.cards[0])
    assert found["waits"] == [{"code": "HV4", "cards": []}]
    assert found["by"] == "supply"
    assert set(found["lists"]) == {"ac", "dc"}


def test_the_head_of_a_card_shows_its_cautions_and_facts() -> None:
    made = work("bus", cards=[("dielectric_withstand", "bus")])
    dc = card_lists(made, made.cards[0])["lists"]["dc"]
    assert dc["cautions"] == ["x_radiation", "discharge_after_dc"]
    assert [one[:34] for one in dc["shown"]] == ["The rules for high-voltage test ar"]
    assert [one[:25] for one in dc["entry"]] == ["Before each further phase"]


def test_a_fact_that_is_no_fact_is_refused() -> None:
    with pytest.raises(ValueError, match="no such fact: raining"):
        isolation_codes([work(known={"raining": True})])


def test_every_fact_is_answered_for_every_cell_and_card() -> None:
    made = work("breaker", "relay", "ct", cards=[(IR, "breaker"), (RELAY, "relay")])
    assert set(cell_facts(made, made.cells[0])) == set(CELL_FACTS)
    for card in made.cards:
        assert set(card_facts(made, card)) == set(CARD_FACTS)
