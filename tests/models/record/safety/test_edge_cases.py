"""The cases at the edge of a scope, each by its name, beyond what its scene asks."""

from typing import Any

from models.record.safety import Safety
from tests.data.safety_day import clock
from tests.data.safety_scene import safety_of, wrong_in
from tests.data.scenes_edges import SCENES


def held(name: str) -> Safety:
    """Return the core over a scene, once all that the scene asks is as by hand."""
    assert wrong_in(SCENES[name]) == []
    return safety_of(SCENES[name].day.scene())


def crew_of(site: dict[str, Any], crew: str) -> dict[str, Any]:
    return next(one for one in site["crews"] if one["of"] == crew)


def isolation_of(site: dict[str, Any], isolation: str) -> dict[str, Any]:
    return next(one for one in site["isolations"] if one["of"] == isolation)


def test_somebody_joins_at_noon() -> None:
    safety = held("somebody joins at noon")
    people = crew_of(safety.site(clock("12:05")), "crew1")["people"]
    since = {one["name"]: one["since"][11:16] for one in people}
    assert since == {
        "Marit Osei": "07:00",
        "Tobias Vane": "07:00",
        "Ines Roth": "12:01",
    }


def test_a_clearance_extended_to_a_second_lineup() -> None:
    safety = held("a clearance extended to a second lineup")
    site = safety.site(clock("12:05"))
    numbers = {one["of"]: one["clearance"] for one in site["isolations"]}
    assert numbers == {"iso1": "4711", "iso2": "4711"}


def test_one_cell_re_energized_while_others_are_tested() -> None:
    safety = held("one cell re-energized, others tested")
    site = safety.site(clock("13:30"))
    assert isolation_of(site, "iso1")["returned_cells"] == ["cell3"]
    assert isolation_of(site, "iso1")["state"] == "stands"


def test_two_crews_on_one_lineup() -> None:
    safety = held("two crews on one lineup")
    site = safety.site(clock("14:01"))
    returning = isolation_of(site, "iso1")["returning"]
    off = [one["item"] for one in returning["lines"] if one["code"] == "R1"]
    assert off == ["marit", "tobias", "ines", "name:pavel lind"]


def test_work_across_midnight() -> None:
    safety = held("work across midnight")
    assert safety.outside("vi1") == []
    asked = crew_of(safety.site(clock("1 6:15")), "crew1")
    assert asked["state"] == "ended"


def test_signal_lost_while_stop_is_pressed_elsewhere() -> None:
    """What the tablet knew lets the reading in; what all know lists it."""
    safety = held("signal lost while stop is pressed elsewhere")
    known = [
        act["id"]
        for act in SCENES["signal lost while stop is pressed elsewhere"].day.acts
        if act["act"] != "stop"
    ]
    at = clock("12:05")
    assert safety.card("vi1", "marit", at, known=known)["open"]
    outside = safety.outside("vi1")
    assert [one["reading"] for one in outside] == [1]
    assert [one["code"] for one in outside[0]["reasons"]] == ["stopped"]


def test_a_gas_insulated_cell_that_borrows_its_ground() -> None:
    safety = held("a gas-insulated cell that borrows its ground")
    lines = safety.site(clock("8:00"))["points"]["gas1"]["lines"]
    (ground,) = (one for one in lines if one["code"] == "G13e")
    assert ground["noted"]["lender"] == "gas2"
    assert (ground["state"], ground["lapsed_by"]) == ("lapsed", "ground")


def test_primary_injection_with_grounds_off() -> None:
    safety = held("primary injection with grounds off")
    during = isolation_of(safety.site(clock("8:40")), "iso1")["grounds"]
    after = isolation_of(safety.site(clock("8:50")), "iso1")["grounds"]
    assert [one["off_for"] for one in during] == ["pi3", None]
    assert [one["off_for"] for one in after] == [None, None]
