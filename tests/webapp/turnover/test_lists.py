"""The lists of cards and deficiencies of all rounds."""

from collections.abc import Callable

import pytest

from tests.scenario import LEAD, OFF_SITE_LEAD
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]
EMPTY = {
    "/turnover/deficiencies": ("No deficiency was raised.", "No deficiency is like"),
    "/turnover/cards": ("There is no card yet.", "No card is like that."),
}


@pytest.mark.parametrize(("address", "said"), EMPTY.items(), ids=EMPTY)
def test_an_empty_list_says_what_belongs_there(
    desk_at: DeskAt, address: str, said: tuple[str, str]
) -> None:
    lead = desk_at("place").person(LEAD)
    assert said[0] in lead.get(address).text
    assert said[1] in lead.get(f"{address}?words=elephant").text
    assert address in lead.get("/turnover/").links


def test_cards_of_all_rounds_lead_to_card_and_gate(desk_at: DeskAt) -> None:
    desk = desk_at("complete")
    page = desk.person(LEAD).get("/turnover/cards?words=breaker")
    assert any(link.startswith("/turnover/cards/") for link in page.links)
    assert any(link.startswith("/turnover/rounds/") for link in page.links)
    assert (
        "This list ends before page 7."
        in desk.person(LEAD).get("/turnover/cards?page=7").text
    )
    assert (
        "There is no card yet."
        in desk.person(OFF_SITE_LEAD).get("/turnover/cards").text
    )
