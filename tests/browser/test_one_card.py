"""One card under one thumb: what is asked next, and what a slip does not do."""

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import func, select

from models.schema import SafetyAct
from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    open_page,
    record,
    sign_in,
)
from tests.browser.give_lines import code_in_hand, give_all, give_line, note
from tests.browser.hand_count import Hand
from tests.scenario import CR, IR, PASSWORD, TECHNICIAN, VI
from tests.shift import Shift

pytestmark = pytest.mark.browser


def at_card(page: Page, served: Served, label: str, procedure: str) -> None:
    """Open a card whose wider scopes stand, the lines of its test not given."""
    with served.session() as session:
        work = AtWork.now(session)
        Shift(work).open()
        session.commit()
        card_id, round_id = work.card(label, procedure).id, work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.locator("#card-title")).to_be_visible()


def at_open_card(
    page: Page, served: Served, label: str, procedure: str, **chosen: str
) -> None:
    """Open a card on which everything stands, also for what may be *chosen* there."""
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm(label, procedure)
        if chosen:
            work.confirm(label, procedure, conditions=chosen)
        session.commit()
        card_id, round_id = work.card(label, procedure).id, work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.get_by_text(OPEN)).to_be_visible()


def given(served: Served) -> int:
    """Count the lines of a test that the database holds."""
    with served.session() as session:
        lines = select(func.count()).where(SafetyAct.scope == "test")
        return session.scalars(lines).one()


def recorded(page: Page) -> None:
    expect(page.locator("#signal")).to_have_text("Everything is recorded")


@pytest.mark.parametrize("size", [TABLET, TABLET_UPRIGHT], ids=["wide", "upright"])
def test_one_line_is_in_hand_after_the_other(
    browser: Browser, served: Served, size: tuple[int, int]
) -> None:
    context, page = open_page(browser, served, size)
    at_card(page, served, "breaker 52", IR)
    first = code_in_hand(page)
    check_page(page)
    note(Hand(page), page)
    # A glove bounces: the second tap of one touch confirms nothing.
    page.get_by_role("button", name=f"Confirm {first}").dblclick()
    expect(page.get_by_label(f"In hand: {first}")).to_have_count(0)
    second = code_in_hand(page)
    recorded(page)
    assert given(served) == 1
    page.get_by_role("button", name="Leave it open").click()
    expect(page.get_by_label(f"In hand: {second}")).to_have_count(0)
    expect(page.locator(".line-text")).to_be_in_viewport()
    assert given(served) == 1
    context.close()


def test_a_reason_belongs_to_the_line_it_was_written_for(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served, "breaker 52", IR)
    reason = page.get_by_label("does not apply here")
    page.get_by_role("button", name="Does not apply").click()
    reason.fill("nobody else is here")
    page.get_by_role("button", name="Cancel").click()
    page.get_by_role("button", name="Leave it open").click()
    while not page.get_by_role("button", name="Does not apply").count():
        page.get_by_role("button", name="Leave it open").click()  # never waived
    page.get_by_role("button", name="Does not apply").click()
    expect(reason).to_have_value("")
    context.close()


def test_a_card_that_opens_begins_where_one_types(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served, "breaker 52", IR)
    give_all(page)
    expect(page.get_by_label("Temperature of the insulation")).to_be_focused()
    expect(page.get_by_label("Temperature of the insulation")).to_be_in_viewport()
    context.close()


def test_without_the_temperature_nothing_is_recorded_by_accident(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    at_open_card(page, served, "breaker 52", IR)
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")
    record(page, "A-G", "8.4")
    row = page.get_by_role("group", name="Point A-G", exact=True)
    expect(row).to_contain_text("Fill in above: temperature of the insulation")
    expect(page.get_by_label("Reading at A-G")).to_have_value("8.4")
    check_page(page)
    row.get_by_role("button", name="Record it without").click()
    expect(row.locator(".typed")).to_contain_text("8.4")
    expect(row).to_contain_text("A-G: unjudged. The temperature")
    context.close()


def test_what_was_chosen_for_one_method_is_not_read_by_another(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    at_open_card(page, served, "breaker 52", VI, method="magnetron")
    page.get_by_label("Method").select_option("ac")
    page.get_by_role("button", name="Held").first.click()
    page.get_by_label("Method").select_option("magnetron")
    expect(page.get_by_label("Voltage reached")).to_have_count(0)
    expect(page.locator(".verdict")).to_have_count(0)
    record(page, "pole A", "0.002")
    row = page.get_by_role("group", name="Point pole A", exact=True)
    expect(row.locator(".verdict")).to_have_text("within")
    context.close()


def test_after_the_last_reading_that_is_in_hand_which_comes_after(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_open_card(page, served, "breaker 52", CR)
    page.get_by_label("Temperature of the conductor").fill("20")
    for pole, text in (("A", "40.1"), ("B", "40.9"), ("C", "41.2")):
        record(page, f"pole {pole}", text)
    asked = page.get_by_label("After the test").locator("li")
    lines = asked.count()
    assert len(give_all(page)) == lines > 0
    expect(page.get_by_text(f"After: {lines} of {lines}")).to_be_visible()
    page.get_by_label(f"Password of {TECHNICIAN.name}").fill(PASSWORD)
    page.get_by_role("button", name="Sign as performed").click()
    expect(page.get_by_text("Signed as performed by")).to_be_visible()
    expect(page.get_by_label("Next card").get_by_role("link")).to_be_focused()
    check_page(page)
    context.close()


def test_a_card_can_be_left_out_when_several_are_signed(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    with served.session() as session:
        work = AtWork.now(session)
        work.fill("breaker 52", IR, sign=False)
        work.fill("breaker 52", CR, sign=False)
        session.commit()
        round_id = work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/")
    page.get_by_label("Breaker 52, insulation resistance").uncheck()
    page.get_by_label(f"Password of {TECHNICIAN.name}").fill(PASSWORD)
    page.get_by_role("button", name="Sign as performed").click()
    expect(page.get_by_text("1 of 7 cards signed")).to_be_visible()
    context.close()


def test_beside_sign_out_stands_what_is_not_sent(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    at_card(page, served, "breaker 52", IR)
    context.set_offline(True)
    give_line(Hand(page), page)
    page.locator(".menu summary").click()
    expect(page.get_by_text("1 entry not sent yet")).to_be_visible()
    context.close()


def test_a_tablet_that_cannot_keep_says_so_at_its_head(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    page.add_init_script(
        "IDBObjectStore.prototype.put = () => "
        "{ throw new DOMException('full', 'QuotaExceededError'); }"
    )
    at_card(page, served, "breaker 52", IR)
    give_line(Hand(page), page)
    expect(page.locator("#signal")).to_contain_text("cannot keep what is typed")
    context.close()


def test_what_another_person_left_on_the_tablet_is_counted(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    at_card(page, served, "breaker 52", IR)
    page.evaluate(
        "localStorage.setItem('witnessmark:someone:somewhere:outbox', '[{}, {}]')"
    )
    page.reload()
    expect(page.locator("#signal")).to_contain_text("2 of another person or round")
    context.close()
