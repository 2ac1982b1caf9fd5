"""One card under one thumb: what is asked next, and what a slip does not do."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.record.lineup_draft import ApparatusDraft, CellDraft
from models.schema import ConfirmedTogether
from models.services.setup.save_lineup import save_lineup
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET,
    TABLET_UPRIGHT,
    check_page,
    confirm_open,
    open_page,
    record,
    sign_in,
)
from tests.scenario import (
    BREAKER,
    CR,
    IR,
    LEAD,
    PASSWORD,
    SITE,
    TECHNICIAN,
    VI,
    Work,
    fixed_id,
    lineup_draft,
    lineup_id,
)

pytestmark = pytest.mark.browser


def at_card(page: Page, served: Served, label: str, procedure: str) -> None:
    """Open a card of a fresh round, its preconditions not answered."""
    with served.session() as session:
        work = Work.begin(session)
        session.commit()
        card_id, round_id = work.card(label, procedure).id, work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.locator("#card-title")).to_be_visible()


def confirmed(served: Served) -> int:
    """Count the confirmations that the database holds."""
    with served.session() as session:
        return sum(map(len, session.scalars(select(ConfirmedTogether.items))))


def recorded(page: Page) -> None:
    expect(page.locator("#signal")).to_have_text("Everything is recorded")


@pytest.mark.parametrize("size", [TABLET, TABLET_UPRIGHT], ids=["wide", "upright"])
def test_the_bar_asks_for_one_precondition_after_the_other(
    browser: Browser, served: Served, size: tuple[int, int]
) -> None:
    context, page = open_page(browser, served, size)
    at_card(page, served, "breaker 52", IR)
    bar = page.get_by_role("group", name="Next precondition")
    main = bar.locator(".button-main")
    expect(main).to_have_text("Confirm G01")
    check_page(page)
    # A glove bounces: the second tap of one touch confirms nothing.
    main.dblclick()
    expect(main).to_have_text("Confirm G02")
    recorded(page)
    assert confirmed(served) == 1
    bar.get_by_role("button", name="Leave it open").click()
    expect(main).to_have_text("Confirm G03")
    expect(page.locator("#item-G03")).to_be_in_viewport()
    context.close()


def test_a_reason_belongs_to_the_precondition_it_was_written_for(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served, "breaker 52", IR)
    first = page.locator("#item-G01")
    first.get_by_role("button", name="Does not apply").click()
    first.get_by_label("Why G01").fill("nobody else is here")
    second = page.locator("#item-G02")
    second.get_by_role("button", name="Does not apply").click()
    expect(second.get_by_label("Why G02")).to_have_value("")
    context.close()


def test_a_card_that_opens_begins_at_its_head(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served, "breaker 52", IR)
    confirm_open(page, "Preconditions")
    expect(page.locator("#card-title")).to_be_focused()
    expect(page.locator("#card-title")).to_be_in_viewport()
    context.close()


def test_without_the_temperature_nothing_is_recorded_by_accident(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    at_card(page, served, "breaker 52", IR)
    confirm_open(page, "Preconditions")
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")
    record(page, "A-G", "8.4")
    row = page.get_by_role("group", name="Point A-G", exact=True)
    expect(row).to_contain_text("Fill in above: temperature of the insulation")
    expect(page.get_by_label("Reading at A-G")).to_have_value("8.4")
    check_page(page)
    row.get_by_role("button", name="Record it without").click()
    expect(row.locator(".typed")).to_contain_text("8.4")
    expect(row).to_contain_text("A-G is unjudged. The temperature")
    context.close()


def test_what_was_chosen_for_one_method_is_not_read_by_another(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    at_card(page, served, "breaker 52", VI)
    confirm_open(page, "Preconditions")
    page.get_by_label("Method").select_option("ac")
    page.get_by_role("button", name="Held").first.click()
    page.get_by_label("Method").select_option("magnetron")
    expect(page.get_by_label("Voltage reached")).to_have_count(0)
    expect(page.locator(".verdict")).to_have_count(0)
    record(page, "pole A", "0.002")
    row = page.get_by_role("group", name="Point pole A", exact=True)
    expect(row.locator(".verdict")).to_have_text("within")
    context.close()


def test_after_the_last_reading_the_bar_asks_for_what_comes_after(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served, "breaker 52", CR)
    confirm_open(page, "Preconditions")
    page.get_by_label("Temperature of the conductor").fill("20")
    for pole, text in (("A", "40.1"), ("B", "40.9"), ("C", "41.2")):
        record(page, f"pole {pole}", text)
    bar = page.get_by_role("group", name="Next precondition")
    expect(bar.locator(".button-main")).to_have_text("Confirm P01")
    confirm_open(page, "After the test")
    expect(bar).to_have_count(0)
    expect(page.get_by_text("After the test · ")).to_be_visible()
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
        work = Work.begin(session)
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
    page.get_by_role("button", name="Confirm G01").click()
    page.locator(".menu summary").click()
    expect(page.get_by_text("1 entry not sent yet")).to_be_visible()
    context.close()


def test_a_tablet_that_cannot_keep_says_so_at_its_head(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    page.add_init_script("Storage.prototype.setItem = () => { throw new Error(); }")
    at_card(page, served, "breaker 52", IR)
    page.get_by_role("button", name="Confirm G01").click()
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


def test_confirmations_are_offered_again_in_the_same_cell_only(
    browser: Browser, served: Served
) -> None:
    """Absence of voltage is proved at each point of work (NFPA 70E, 2024)."""
    context, page = open_page(browser, served, TABLET)
    with served.session() as session:
        kind, _, plate = BREAKER
        first = lineup_draft()
        feeder = CellDraft(
            number="2",
            name="Feeder",
            kind="breaker",
            bus="bus",
            apparatus=[ApparatusDraft(kind=kind, label="breaker 53", plate=plate)],
        )
        save_lineup(
            session,
            person_id=LEAD.id,
            site_id=fixed_id(SITE),
            lineup_id=lineup_id(),
            draft=replace(first, cells=[*first.cells, feeder]),
            now=datetime.now(UTC),
            new_id=uuid4,
        )
        work = Work.begin(session, at=datetime.now(UTC))
        work.confirm("breaker 52", IR)
        session.commit()
        cards, round_id = work.cards, work.round_id
    sign_in(page, TECHNICIAN)
    offer = page.get_by_role("button", name=re.compile("^I have looked again"))
    for label, offers in (("breaker 52", 1), ("breaker 53", 0)):
        page.goto(f"/field/rounds/{round_id}/#/cards/{cards[label, CR].id}")
        expect(page.locator("h1")).to_contain_text(label)
        expect(offer).to_have_count(offers)
    context.close()
