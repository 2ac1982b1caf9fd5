"""A signature without signal: kept as what its signer means, given with signal."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from uuid import UUID

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from sqlalchemy import select

from models.schema import Apparatus, Card, LogEntry, Signature
from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    check_themes,
    hold_program,
    open_page,
    sign_in,
)
from tests.browser.give_lines import make_safe
from tests.scenario import CR, IR, PASSWORD, SECOND, TECHNICIAN, Work

pytestmark = pytest.mark.browser
WAITS = "Your signature waits. The card is not signed yet."
INTEND = "Sign when there is signal"


@contextmanager
def tablet(browser: Browser, served: Served) -> Iterator[tuple[BrowserContext, Page]]:
    """Open a card with one point to read; another one is complete and not signed."""
    with served.session() as session:
        work = AtWork.now(session)
        work.read("bus", IR, *["9.0"] * 6)
        work.confirm("bus", IR, after=True)
        work.read("breaker 52", CR, "38.6", "39.4")
        session.commit()
        card_id, round_id = work.card("breaker 52", CR).id, work.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.get_by_text(OPEN)).to_be_visible()
    hold_program(page)
    yield context, page
    context.close()


def complete_without_signal(context: BrowserContext, page: Page) -> None:
    """Read the last point, make safe, and mean to sign."""
    page.get_by_label("Temperature of the conductor").fill("20")
    page.get_by_label("Test current").fill("100")
    page.get_by_label("Instrument").select_option(label="CR-1 · test set CR-1")
    context.set_offline(True)
    last = page.locator("input.reading")
    last.fill("40.2")
    last.press("Enter")
    make_safe(page)
    page.get_by_role("button", name=INTEND).click()
    expect(page.get_by_text(WAITS)).to_be_visible()


def signed(served: Served) -> list[tuple[str, UUID]]:
    """Return what is signed, with by whom."""
    with served.session() as session:
        rows = session.execute(
            select(Apparatus.label, Signature.by_id)
            .join(Card, Card.id == Signature.card_id)
            .join(Apparatus, Apparatus.id == Card.apparatus_id)
            .order_by(Apparatus.label)
        )
        return [(label, by) for label, by in rows]


def intended(served: Served) -> list[str]:
    """Return the tablets on which signatures were meant, as the log says."""
    with served.session() as session:
        rows = session.scalars(
            select(LogEntry).where(LogEntry.action == "sign card as performed")
        )
        bodies = [json.loads(one.body) for one in rows]
    return [one["intended"]["device"] for one in bodies if "intended" in one]


def test_what_was_meant_without_signal_is_signed_with_one_password(
    browser: Browser, served: Served
) -> None:
    with tablet(browser, served) as (context, page):
        complete_without_signal(context, page)
        check_page(page)
        page.get_by_role("link", name="‹ Elevation").click()
        page.get_by_role("button", name=INTEND).click()  # the other card
        expect(page.get_by_text("2 signatures wait for signal")).to_be_visible()
        page.reload()
        head = page.get_by_role("region", name="2 signatures wait for signal")
        expect(head).to_contain_text("Nothing of it is signed yet")
        check_themes(page)
        assert signed(served) == []
        context.set_offline(False)
        password = page.get_by_label(f"Password of {TECHNICIAN.name}")
        expect(password).to_have_count(1)
        password.fill("not the password")
        page.get_by_role("button", name="Sign 2 cards as performed").click()
        expect(page.locator("#sign-fault")).not_to_be_empty()
        assert signed(served) == []
        check_page(page)
        password.fill(PASSWORD)
        with page.expect_request("**/told") as told:  # the gate waits no more
            page.get_by_role("button", name="Sign 2 cards as performed").click()
        assert told.value.post_data_json["intents"] == 0
        expect(page.get_by_text("2 signatures wait")).to_have_count(0)
        expect(page.get_by_text("2 of 7 cards signed")).to_be_visible()
    assert signed(served) == [
        ("breaker 52", TECHNICIAN.id),
        ("bus", TECHNICIAN.id),
    ]
    assert len(set(intended(served))) == 1 and len(intended(served)) == 2


def test_a_card_that_changed_meanwhile_is_looked_at_before_it_is_signed(
    browser: Browser, served: Served
) -> None:
    """Another tablet measured a point again; the other card is signed all the same."""
    with tablet(browser, served) as (context, page):
        complete_without_signal(context, page)
        page.get_by_role("link", name="‹ Elevation").click()
        page.get_by_role("button", name=INTEND).click()
        with served.session() as session:
            work = Work.resume(session)
            first = work.facts("breaker 52", CR).current[0].id
            work.again("breaker 52", CR, first, "39.7", by=SECOND)
            work.confirm("breaker 52", CR, after=True, by=SECOND)
            session.commit()
        context.set_offline(False)
        changed = page.get_by_text("is 39.7 µΩ, within, and was 38.6 µΩ, within")
        expect(changed).to_be_visible()
        page.get_by_label(f"Password of {TECHNICIAN.name}").fill(PASSWORD)
        page.get_by_role("button", name="Sign as performed").click()
        expect(page.get_by_text("1 signature waits for your password")).to_be_visible()
        assert signed(served) == [("bus", TECHNICIAN.id)]
        page.get_by_role("link", name="Look at it").click()
        expect(page.get_by_text("The card has changed since")).to_be_visible()
        check_page(page)
        page.get_by_role("button", name="Withdraw").click()
        expect(page.get_by_text(WAITS)).to_have_count(0)
        expect(page.get_by_role("button", name="Sign as performed")).to_be_visible()
    assert signed(served) == [("bus", TECHNICIAN.id)]
