"""The list of rounds, and the form that begins a plan."""

from collections.abc import Callable

import pytest

from tests.scenario import LEAD, OFF_SITE_LEAD, TECHNICIAN, lineup_id
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]
PLAN = {
    "lineup": str(lineup_id()),
    "kind": "acceptance",
    "programme": "Acceptance, any gear",
}
FAULTS: dict[str, tuple[dict[str, str], set[str]]] = {
    "nothing chosen": ({}, {"lineup", "kind", "programme"}),
    "a programme for the other kind": (
        {**PLAN, "kind": "maintenance"},
        {"programme"},
    ),
    "a lineup of another site": (
        {**PLAN, "lineup": str(lineup_id("Saltern crusher house"))},
        {"lineup"},
    ),
}


def test_without_rounds_it_says_what_a_round_is(desk_at: DeskAt) -> None:
    page = desk_at("place").person(LEAD).get("/turnover/")
    assert "No round is open." in page.text
    assert "one campaign of tests on a lineup" in page.text
    assert "Plan the round" in page.text  # the only lineup is one to plan on


def test_a_round_is_planned_from_the_list(desk_at: DeskAt) -> None:
    lead = desk_at("place").person(LEAD)
    page = lead.follow(lead.post("/turnover/rounds", on="/turnover/", **PLAN))
    assert page.headline == "Plan of MV-1, acceptance round"


@pytest.mark.parametrize(("typed", "places"), FAULTS.values(), ids=FAULTS)
def test_what_is_wrong_is_said_there_and_what_was_chosen_is_kept(
    desk_at: DeskAt, typed: dict[str, str], places: set[str]
) -> None:
    lead = desk_at("place").person(LEAD)
    page = lead.faulty("/turnover/rounds", on="/turnover/", **typed)
    assert set(page.faults) == places
    for name in set(typed) - {"lineup"}:
        assert page.chosen[name] == typed[name]


def test_a_lineup_has_one_open_round_at_a_time(desk_at: DeskAt) -> None:
    lead = desk_at("opened").person(LEAD)
    page = lead.faulty("/turnover/rounds", on="/turnover/", **PLAN)
    assert "still open" in page.faults["lineup"]


def test_only_a_lead_plans_rounds(desk_at: DeskAt) -> None:
    technician = desk_at("place").person(TECHNICIAN)
    assert "Plan a round" not in technician.get("/turnover/").text
    answer = technician.post("/turnover/rounds", on="/turnover/", **PLAN)
    assert answer.status_code == 403


def test_who_is_assigned_to_no_site_sees_no_round(desk_at: DeskAt) -> None:
    page = desk_at("accepted").person(OFF_SITE_LEAD).get("/turnover/")
    assert "None yet." in page.text


def test_the_list_says_how_far_a_round_is(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.fill("bus", "insulation_resistance")
    text = desk.person(LEAD).get("/turnover/").text
    assert "1 of 7 cards signed, 6 readings" in " ".join(text.split())
