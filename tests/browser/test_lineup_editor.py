"""A lineup is entered on its floor: by keys alone, from a starting point, again."""

from dataclasses import replace
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.schema import Lineup
from models.services.setup.save_lineup import save_lineup
from models.services.setup.stored_draft import lineup_draft_of
from tests.browser.conftest import Served
from tests.browser.crew import DESK, TABLET_UPRIGHT, check_page, open_page, sign_in
from tests.browser.hand_count import Hand
from tests.scenario import LEAD, SITE, fixed_id

pytestmark = pytest.mark.browser

SITE_PAGE = f"/setup/sites/{fixed_id(SITE)}"
NEW = f"{SITE_PAGE}/lineups/new"
MOST_SECONDS = 240  # of the ten minutes that the whole first day may take
MOST_TAPS = 14
PAGES = (
    "/setup/sites",
    "/setup/sites/new",
    SITE_PAGE,
    f"{SITE_PAGE}/change",
    "/setup/owners",
    "/setup/owners/new",
)
ROW = "15 kV, 95 kV impulse, 36 kV power frequency · IEEE C37.20.2"


def stored(served: Served, name: str) -> Lineup:
    """Return the lineup of that name from the database."""
    with served.session() as session:
        lineup = session.scalars(select(Lineup).where(Lineup.name == name)).one()
        session.expunge(lineup)
        return lineup


def cells_of(served: Served, name: str) -> dict[str, list[str]]:
    """Return name and tags of each cell, by its number."""
    with served.session() as session:
        lineup = stored(served, name)
        draft, _ = lineup_draft_of(session, LEAD.id, lineup.id)
    return {
        cell.number: [cell.name, *(one.label for one in cell.apparatus)]
        for cell in draft.cells
    }


def by_keys(page: Page) -> Hand:
    """Enter six cells on the empty floor of the page, without a pointer, and save."""
    hand = Hand(page)
    hand.tab_to(page.get_by_role("button", name="Begin with an empty floor"))
    hand.key("Enter")
    expect(page.get_by_label("Name of the lineup")).to_be_focused()
    hand.write("SG-8")
    hand.tab_to(page.get_by_label("Voltages, as a row"))
    hand.key("ArrowDown", times=3)
    hand.tab_to(page.get_by_role("button", name="add cell at the right end"))
    hand.key("Enter")
    breaker = page.get_by_role("button", name="circuit breaker", exact=True)
    expect(breaker).to_be_focused()
    hand.key("Enter")
    hand.write("Incomer A")
    hand.key("Escape")
    hand.key("+")
    hand.key("Enter")
    hand.write("Duty pump 1")
    hand.key("Escape")
    hand.key("Control+d")
    hand.write("2")
    hand.key("Enter")
    hand.key("End")
    hand.key("+")
    hand.key("ArrowRight")
    hand.key("Enter")
    hand.write("Bus tie")
    hand.key("Escape")
    hand.key("+")
    hand.key("ArrowLeft")
    hand.key("Enter")
    hand.write("Incomer B")
    hand.key("Control+s")
    expect(page.get_by_role("heading", name="SG-8", exact=True)).to_be_visible()
    return hand


def from_a_starting_point(page: Page) -> Hand:
    """Lay out seven cells on the floor of the page from a few answers, and save."""
    hand = Hand(page)
    hand.tap(page.get_by_label("Metal-clad, two incomers"))
    hand.tap(page.get_by_label("Name of the lineup"))
    hand.write("SG-9")
    hand.choose(page.get_by_label("Voltages on the lineup"), label=ROW)
    hand.tap(page.get_by_label("Rated current of the bus"))
    hand.write("2000")
    hand.tap(page.get_by_role("button", name="Lay it out"))
    expect(page.locator("[data-cell]")).to_have_count(7)
    check_page(page)
    hand.tap(page.get_by_role("button", name="Save lineup"))
    expect(page.get_by_role("heading", name="SG-9", exact=True)).to_be_visible()
    return hand


def test_six_cells_by_keys_alone_and_seven_from_a_starting_point(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    page.goto(NEW)
    hand = by_keys(page)
    assert hand.taps == 0
    assert hand.seconds < MOST_SECONDS, hand
    assert list(cells_of(served, "SG-8").values()) == [
        ["Incomer A", "bus", "breaker 52-1", "relay 51-1"],
        ["Duty pump 1", "breaker 52-2", "relay 51-2"],
        ["Duty pump 2", "breaker 52-3", "relay 51-3"],
        ["Duty pump 3", "breaker 52-4", "relay 51-4"],
        ["Bus tie", "breaker 52-5"],
        ["Incomer B", "breaker 52-6", "relay 51-6"],
    ]
    assert stored(served, "SG-8").rated_kv == 15
    check_page(page)
    page.goto(NEW)
    hand = from_a_starting_point(page)
    assert hand.taps <= MOST_TAPS, hand
    assert len(cells_of(served, "SG-9")) == 7
    context.close()


def test_what_is_wrong_is_shown_where_it_stands_and_nothing_is_lost(
    browser: Browser, served: Served
) -> None:
    """A fault at its field, a reload, somebody else's save: all of it is kept."""
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    context.add_init_script("localStorage.setItem('witnessmark-theme', 'dark')")
    sign_in(page, LEAD)
    page.goto(NEW)
    from_a_starting_point(page)
    page.get_by_role("link", name="Change the lineup").click()
    page.locator("[data-cell]").nth(2).click()
    page.get_by_label("Rated continuous current").fill("1.2 kA")
    page.get_by_label("Year built").fill("20261")
    page.get_by_label("Number", exact=True).fill("1")
    page.get_by_role("button", name="Save lineup").click()
    expect(page.get_by_label("Year built")).to_be_focused()
    expect(page.get_by_text("must be a whole number between 1900")).to_have_count(2)
    check_page(page)
    page.get_by_label("Year built").fill("2026")
    page.get_by_role("button", name="Save lineup").click()
    expect(page.get_by_label("Number", exact=True)).to_be_focused()
    expect(page.get_by_text("Two cells have the number 1.").first).to_be_visible()
    page.reload()
    expect(page.get_by_text("Unsaved draft of")).to_be_visible()
    page.locator("[data-cell]").nth(2).click()
    expect(page.get_by_label("Rated continuous current")).to_have_value("1200")
    page.get_by_label("Number", exact=True).fill("3")
    save_behind_their_back(served)
    page.get_by_role("button", name="Save lineup").click()
    expect(page.get_by_text("Both are kept")).to_be_visible()
    check_page(page)
    page.get_by_role("button", name="Take theirs").click()
    expect(page.locator("[data-cell]").first).to_contain_text("Their incomer")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("[data-cell]").first).to_contain_text("Incomer A")
    page.get_by_role("button", name="Save lineup").click()
    expect(page.get_by_role("link", name="Change the lineup")).to_be_visible()
    assert cells_of(served, "SG-9")["1"][0] == "Incomer A"
    for path in (*PAGES, page.url):
        page.goto(path)
        check_page(page)
    context.close()


def save_behind_their_back(served: Served) -> None:
    """Save the lineup with another name of its first cell, as somebody else does."""
    with served.session() as session:
        lineup = stored(served, "SG-9")
        draft, version = lineup_draft_of(session, LEAD.id, lineup.id)
        first = replace(draft.cells[0], name="Their incomer")
        save_lineup(
            session,
            person_id=LEAD.id,
            site_id=lineup.site_id,
            lineup_id=lineup.id,
            draft=replace(draft, cells=[first, *draft.cells[1:]]),
            seen_version=version,
            now=datetime.now(UTC),
            new_id=uuid4,
        )
        session.commit()
