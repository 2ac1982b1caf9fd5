"""One round in two pages of one tablet: nothing is lost, nothing goes twice."""

from collections import Counter
from uuid import UUID

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Request, expect

from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET,
    AtWork,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.browser.test_field import open_card, ready, stored
from tests.scenario import IR, TECHNICIAN, Work

pytestmark = pytest.mark.browser
NO_SIGNAL = "No signal · 2 entries kept on this tablet"
RECORDED = "Everything is recorded"


def second_page(context: BrowserContext, first: Page) -> Page:
    """Open the same card in another page of the same tablet."""
    page = context.new_page()
    page.goto(first.url)
    expect(page.get_by_text(OPEN)).to_be_visible()
    return page


def sent_keys(context: BrowserContext) -> Counter[str]:
    """Return a count of every entry that is sent from now on."""
    sent: Counter[str] = Counter()

    def note(request: Request) -> None:
        if request.url.endswith("/entries"):
            sent.update(entry["key"] for entry in request.post_data_json["entries"])

    context.on("requestfinished", note)
    return sent


def test_what_both_record_without_signal_is_sent_once(
    browser: Browser, served: Served
) -> None:
    context, first = open_page(browser, served, TABLET)
    card_id = open_card(first, served, "breaker 52", IR)
    second = second_page(context, first)
    sent = sent_keys(context)
    context.set_offline(True)
    ready(first)
    record(first, "A-G", "8.4")
    verdict_at(second, "A-G", "within")
    record(second, "B-G", "2.1")
    for page in (first, second):
        verdict_at(page, "B-G", "outside")
        expect(page.locator("#signal")).to_contain_text(NO_SIGNAL)
    context.set_offline(False)
    for page in (first, second):
        expect(page.locator("#signal")).to_have_text(RECORDED)
        verdict_at(page, "A-G", "within")
        verdict_at(page, "B-G", "outside")
    assert stored(served, card_id) == 2
    assert sorted(sent.values()) == [1, 1]
    context.close()


def test_what_is_refused_comes_back_in_both(browser: Browser, served: Served) -> None:
    """Somebody else read the point from another tablet in the meantime."""
    context, first = open_page(browser, served, TABLET)
    card_id = open_card(first, served, "breaker 52", IR)
    second = second_page(context, first)
    ready(first)
    context.set_offline(True)
    record(first, "A-G", "8.4")
    expect(first.locator("#signal")).to_contain_text("1 entry kept on this tablet")
    first.close()
    with served.session() as session:
        Work.resume(session).read("breaker 52", IR, "9.9")
        session.commit()
    context.set_offline(False)
    row = second.get_by_role("group", name="Point A-G", exact=True)
    twice = row.get_by_role("region", name="A-G was read twice")
    expect(twice).to_contain_text("8.4")
    assert stored(served, card_id) == 1
    context.close()


def test_what_is_typed_on_one_page_is_not_lost_to_the_other(
    browser: Browser, served: Served
) -> None:
    context, first = open_page(browser, served, TABLET)
    open_card(first, served, "breaker 52", IR)
    second = second_page(context, first)
    ready(first)
    first.get_by_label("Reading at A-G").fill("8.41")
    second.get_by_label("Note for the record").fill("rain on the roof")
    for page in (first, second):
        page.reload()
        expect(page.get_by_label("Reading at A-G")).to_have_value("8.41")
        expect(page.get_by_label("Note for the record")).to_have_value(
            "rain on the roof"
        )
    context.close()


def test_what_an_earlier_version_kept_is_sent(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm("breaker 52", IR)
        session.commit()
        card = work.card("breaker 52", IR)
        entries = [
            work.reading(card, point, "8.4", conditions={"temperature_c": 20})
            for point in card.points[:2]
        ]
        round_id, card_id = work.round_id, card.id
    sign_in(page, TECHNICIAN)
    keep_as_before(page, round_id, entries)
    page.goto(f"/field/rounds/{round_id}/")
    expect(page.locator("#signal")).to_have_text(RECORDED)
    assert stored(served, card_id) == 2
    assert (
        page.evaluate("Object.keys(localStorage).filter((k) => /outbox/.test(k))") == []
    )
    context.close()


def keep_as_before(
    page: Page, round_id: UUID, entries: list[dict[str, object]]
) -> None:
    """Put an outbox into the tablet's storage, as one item."""
    key = f"witnessmark:{TECHNICIAN.id}:{round_id}:outbox"
    page.evaluate(
        "([key, all]) => localStorage.setItem(key, JSON.stringify(all))", [key, entries]
    )
