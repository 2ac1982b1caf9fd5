"""A tablet that saw a round once opens it without signal, however its page ended."""

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET_UPRIGHT,
    check_page,
    check_themes,
    hold_program,
    open_page,
    record,
    verdict_at,
)
from tests.browser.test_field import open_card, ready, stored
from tests.scenario import IR, SITE, fixed_id

pytestmark = pytest.mark.browser


def test_a_reload_and_a_closed_page_without_signal_end_nothing(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    context.set_offline(True)
    ready(page)
    record(page, "A-G", "8.4")
    page.get_by_label("Reading at B-G").fill("8.41")
    page.reload()
    expect(page.get_by_text(OPEN)).to_be_visible()
    verdict_at(page, "A-G", "within")
    expect(page.get_by_label("Reading at B-G")).to_have_value("8.41")
    address = page.url
    page.close()
    page = context.new_page()
    page.goto(address)
    verdict_at(page, "A-G", "within")
    expect(page.locator("#signal")).to_contain_text("1 entry kept on this tablet")
    page.goto("/field/")
    expect(page.get_by_role("heading", name="On this tablet")).to_be_visible()
    check_page(page)
    check_themes(page)
    page.get_by_role("link", name=f"Open {SITE}").click()
    expect(page.get_by_role("heading", name="front elevation")).to_be_visible()
    page.goto("/library/")
    expect(page.get_by_text("that page needs the server")).to_be_visible()
    page.goto(f"/a/{fixed_id(f'{SITE} relay 51')}")
    expect(page.get_by_role("heading", name="relay 51")).to_be_visible()
    assert stored(served, card_id) == 0
    context.set_offline(False)
    page.goto(address)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert stored(served, card_id) == 1
    context.close()
