"""A lead plans a round in the browser: left out, assigned, edition, opened, seen."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
    check_page,
    check_sizes,
    check_themes,
    open_page,
    sign_in,
)
from tests.scenario import LEAD, SECOND

pytestmark = pytest.mark.browser

VACUUM = "breaker 52, vacuum integrity"


def test_a_round_is_planned_and_opened(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    begin(page)
    check_themes(page)
    page.get_by_label(VACUUM, exact=True).check()
    page.get_by_role("button", name="Leave out").click()
    expect(page.get_by_text("Write why these cards are left out.")).to_be_visible()
    expect(page.get_by_label(VACUUM, exact=True)).to_be_checked()
    page.get_by_label("Reason for leaving out").fill("No set on site before May")
    page.get_by_role("button", name="Leave out").click()
    expect(page.get_by_text("Left out: No set on site before May")).to_be_visible()
    page.get_by_label("bus, insulation resistance", exact=True).check()
    page.get_by_label("Person").select_option(label=SECOND.name)
    page.get_by_role("button", name="Assign").click()
    row = page.get_by_role("row").filter(has_text="each phase to ground and to")
    expect(row.get_by_text(SECOND.name)).to_be_visible()
    page.reload()  # nothing is lost: the plan is kept on the server
    expect(row.get_by_text(SECOND.name)).to_be_visible()
    name_the_edition(page)
    page.get_by_role("button", name="Open the round").click()
    expect(page.get_by_text("1 card of the programme left out")).to_be_visible()
    page.get_by_role("link", name="Package").first.click()
    page.goto(page.url.replace("/package", "/cards"))
    expect(page.get_by_text("No set on site before May")).to_be_visible()
    page.get_by_role("link", name="People and days").click()
    check_sizes(page)
    package = context.request.get(
        page.url.split("?")[0].replace("/planning/rounds", "/turnover/rounds")
        + "/draft.pdf"
    )
    assert package.ok
    context.close()


def begin(page: Page) -> None:
    form = page.get_by_role("main").locator("form").filter(has_text="Plan a round")
    expect(form.get_by_label("Lineup")).not_to_have_value("")  # there is one alone
    form.get_by_label("acceptance", exact=True).check()
    form.get_by_label("Programme").select_option("Acceptance, draw-out breakers")
    form.get_by_role("button", name="Plan the round").click()
    expect(page.get_by_role("heading", name="Plan of MV-1")).to_be_visible()


def name_the_edition(page: Page) -> None:
    page.get_by_role("link", name="Which edition does the contract name?").click()
    check_page(page)
    page.get_by_role("radio", name="ANSI/NETA ATS (2003 to 2009").check()
    page.get_by_label("Document that names it").first.fill("Contract 12, annex C")
    page.get_by_role("button", name="Keep the editions").click()
    expect(page.get_by_text("Editions named: 2.")).to_be_visible()
