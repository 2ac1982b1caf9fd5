"""The way into the set-up, and the steps to the first card."""

from collections.abc import Callable

import pytest

from tests.scenario import (
    ADMINISTRATOR,
    LEAD,
    OFF_SITE,
    OFF_SITE_LEAD,
    OWNER,
    TECHNICIAN,
    Cast,
)
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]

WAY_IN = {
    "a lead": (LEAD, True),
    "an administrator": (ADMINISTRATOR, True),
    "a technician": (TECHNICIAN, False),
    "an owner's engineer": (OWNER, False),
}


@pytest.mark.parametrize(("who", "offered"), WAY_IN.values(), ids=WAY_IN)
def test_the_set_up_is_offered_to_who_sets_up(
    desk_at: DeskAt, who: Cast, offered: bool
) -> None:
    page = desk_at("place").person(who).get("/library/")
    assert ("Set-up" in page.text) is offered
    assert "First steps" not in page.text  # the ways stand on pages of the set-up


def test_what_is_there_is_counted(desk_at: DeskAt) -> None:
    page = desk_at("place").person(LEAD).get("/start/")
    assert page.headline == "From here to the first card"
    assert "1. Owner and site · 1 site" in page.text
    assert "5. Round · none on your sites yet" in page.text
    assert "/turnover/" in page.links


EMPTY = {
    "a lead": (LEAD, "/turnover/", ""),
    "a lead without a site": (OFF_SITE_LEAD, "/turnover/", "assigned to none yet"),
    "a technician": (TECHNICIAN, "/field/", ""),
    "a technician without a site": (OFF_SITE, "/field/", "assigned to none yet"),
}


@pytest.mark.parametrize(("who", "path", "said"), EMPTY.values(), ids=EMPTY)
def test_a_list_without_rounds_says_what_comes_first(
    desk_at: DeskAt, who: Cast, path: str, said: str
) -> None:
    visitor = desk_at("place").person(who)
    page = visitor.get(path)
    assert ("From here to the first card" in page.text) is bool(said)
    assert said in page.text
    assert "From here to the first card" not in visitor.get(f"{path}?words=x").text
