"""The pages of a plan: its cards, one card, adding one, editions, opening it."""

import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.scenario import IR, LEAD, OFF_SITE_LEAD, SECOND, TECHNICIAN, fixed_id
from tests.webapp.desk import Desk, Page, Visitor
from tests.webapp.turnover.test_rounds import PLAN
from webapp.planning import round_routes

DeskAt = Callable[[str], Desk]
DRAW_OUT = {**PLAN, "programme": "Acceptance, draw-out breakers"}
BREAKER = str(fixed_id("Marram pumping station breaker 52"))


class Planner:
    """A lead on the page of a plan."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self.lead = desk, desk.person(LEAD)
        begun = self.lead.post("/turnover/rounds", on="/turnover/", **DRAW_OUT)
        self.address = begun.headers["Location"]
        self.page = self.lead.follow(begun)

    def key(self, words: str) -> str:
        """Return the key of the card of those words, as its box is called."""
        html = self.lead.get(self.address).html
        found = re.search(rf'value="([^"]+)"[^>]*><span[^>]*>{words}</span>', html)
        assert found, words
        return found[1]

    def act(self, act: str, **fields: Any) -> Page:
        return self.lead.follow(
            self.lead.post(f"{self.address}/cards", on=self.address, act=act, **fields)
        )

    def refused(self, act: str, **fields: Any) -> Page:
        return self.lead.faulty(
            f"{self.address}/cards", on=self.address, act=act, **fields
        )


def said(page: Page) -> str:
    return " ".join(page.text.split())


def test_a_plan_from_the_list_to_the_package(desk_at: DeskAt) -> None:
    """A card left out, one assigned, another planned, an edition, then opened."""
    plan = Planner(desk_at("place"))
    assert "Cards 7 Points 32" in said(plan.page)
    vacuum = plan.key("breaker 52, vacuum integrity")
    plan.act("leave_out", cards=[vacuum], reason="No set on site before May")
    page = plan.act(
        "assign", cards=[plan.key("bus, insulation resistance")], assigned_to=SECOND.id
    )
    assert "Left out: No set on site before May (Otto Heron)" in said(page)
    assert "Ida Plover 1 not assigned 5" in said(page)
    plan.act("schedule", scope="procedure contact_resistance", planned_on="2099-03-04")
    page = plan.act("assign", scope="all", assigned_to=SECOND.id)
    assert "4 Mar 2099 2 no day yet 4" in said(page)
    assert "No fitting instrument is in calibration on 4 Mar 2099" in said(page)
    editions = plan.lead.get(f"{plan.address}/editions")
    assert "at least 5.000 GΩ (ANSI/NETA ATS" in editions.text
    answers = {
        "print_insulation_minimum": "insulation_minimum_older",
        "print_metals": "metals",
    }
    page = plan.lead.faulty(f"{plan.address}/editions", **answers)
    assert "Write which document names this edition." in page.text
    assert "2 of 2 editions not named" in plan.lead.get(plan.address).text
    answers["document_insulation_minimum"] = "Contract 12, annex C"
    page = plan.lead.follow(plan.lead.post(f"{plan.address}/editions", **answers))
    assert "Editions named: 2." in page.text
    opened = plan.lead.post(f"{plan.address}/open", on=plan.address)
    gate = plan.lead.follow(opened)
    assert "1 card of the programme left out" in gate.text
    round_page = opened.headers["Location"]
    schedule = said(plan.lead.get(f"{round_page}/cards"))
    assert "No set on site before May" in schedule
    assert "assigned to Ida Plover, planned 4 Mar 2099" in schedule
    draft = plan.lead.client.get(f"{round_page}/draft.pdf")
    assert draft.status_code == 200
    assert plan.lead.get(plan.address).status == 404


def test_what_is_wrong_is_said_and_nothing_is_kept(desk_at: DeskAt) -> None:
    plan = Planner(desk_at("place"))
    vacuum = plan.key("breaker 52, vacuum integrity")
    timing = plan.key("breaker 52, breaker timing")
    cases = (
        ("leave_out", {"cards": [vacuum]}, "Write why these cards are left out."),
        ("leave_out", {"cards": [timing]}, "Choose at least one card."),
        ("leave_out", {}, "Choose at least one card."),
        ("assign", {"cards": [vacuum], "assigned_to": "x"}, "somebody of the list"),
        ("schedule", {"cards": [vacuum], "planned_on": "soon"}, "is no day"),
        ("schedule", {"cards": [vacuum], "planned_on": "2020-01-01"}, "day is over"),
        ("dance", {"cards": [vacuum]}, "what is to be done"),
    )
    for act, fields, words in cases:
        assert words in plan.refused(act, **fields).text, (act, fields)
    assert "Cards 7 Points 32" in said(plan.lead.get(plan.address))


def test_points_and_a_card_are_added_with_reasons(desk_at: DeskAt) -> None:
    plan = Planner(desk_at("place"))
    card = f"{plan.address}/cards/{plan.key('breaker 52, contact resistance')}"
    page = plan.lead.faulty(card, points="pole A\npole D", reason="")
    assert "'pole D' is no point of contact resistance" in page.faults["points"]
    assert page.fields["points"] == "pole A\npole D"
    typed = {"points": "pole A\npole A, second gap", "reason": "two gaps in series"}
    page = plan.lead.follow(plan.lead.post(card, **typed))
    assert "pole A, second gap" in page.text
    add = f"{plan.address}/add"
    page = plan.lead.faulty(add, apparatus=BREAKER, procedure="relay_timing")
    assert set(page.faults) == {"procedure", "detail", "reason"}
    new = {
        "apparatus": BREAKER,
        "procedure": "dielectric_withstand",
        "detail": "across the open gaps",
        "points": "",
        "reason": "asked by the owner",
    }
    page = plan.lead.follow(plan.lead.post(add, **new))
    assert page.headline == "breaker 52 · dielectric withstand"
    assert "Cards 8 Points 34" in said(plan.lead.get(plan.address))


def test_an_open_round_gets_people_days_and_cards(
    desk_at: DeskAt, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_at("opened")
    lead = desk.person(LEAD)
    with desk.work() as work:
        round_id, card = work.round_id, work.card("bus", IR).id
    page = f"/planning/rounds/{round_id}"
    change = f"{page}/cards"
    done = {"act": "assign", "cards": [card], "assigned_to": TECHNICIAN.id}
    assert "Wren Tern" in lead.follow(lead.post(change, on=page, **done)).text
    done = {"act": "schedule", "scope": "all", "planned_on": "2099-03-04"}
    assert "4 Mar 2099" in lead.follow(lead.post(change, on=page, **done)).text
    assert "at least one card" in lead.faulty(change, on=page, act="assign").text
    new = {
        "apparatus": BREAKER,
        "procedure": "dielectric_withstand",
        "detail": "across the open gaps",
        "points": "phase A",
        "reason": "asked by the owner",
    }
    lead.follow(lead.post(f"{page}/add", **new))
    assert "asked by the owner" in lead.get(f"/turnover/rounds/{round_id}/cards").text
    assert (
        "1 card added to the programme" in lead.get(f"/turnover/rounds/{round_id}").text
    )
    technician = desk.person(TECHNICIAN)
    assert technician.get(page).status == 403
    shown: list[str] = []
    monkeypatch.setattr(round_routes, "CARDS", 3)
    for number in (1, 2, 3, 99):  # one beyond the last is the last
        found = lead.get(f"{page}?page={number}")
        assert f"{3 * min(number, 3) - 2} to " in found.text
        shown += re.findall(r'name="cards" value="([^"]+)"', found.html)
    assert len(shown[:8]) == len(set(shown)) == 8
    assert shown[8:] == shown[6:8]


def test_a_plan_is_for_leads_of_the_site(desk_at: DeskAt) -> None:
    desk = desk_at("place")
    plan = Planner(desk)
    for person, status in ((TECHNICIAN, 403), (OFF_SITE_LEAD, 404)):
        visitor: Visitor = desk.person(person)
        assert visitor.get(plan.address).status == status
    page = plan.lead.follow(plan.lead.post(f"{plan.address}/drop", on=plan.address))
    assert "thrown away" in page.text
    assert plan.lead.get(plan.address).status == 404
