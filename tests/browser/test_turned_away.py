"""What turns an entry away: it says so, keeps the entry, and goes on afterwards."""

from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.schema import Note, Person, Tablet
from models.services.tablets.decide import revoke_or_admit
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    hold_program,
    open_page,
    sign_in,
)
from tests.browser.test_field import open_card
from tests.scenario import IR, LEAD, PASSWORD, TECHNICIAN

pytestmark = pytest.mark.browser
CARD = ("breaker 52", IR)
RECORDED = "Everything is recorded"


def add_note(page: Page, text: str) -> None:
    page.get_by_label("Note for the record").fill(text)
    page.get_by_role("button", name="Add note").click()


def notes(served: Served, card_id: UUID) -> set[str]:
    """Return the notes that the server has."""
    with served.session() as session:
        return set(session.scalars(select(Note.text).where(Note.card_id == card_id)))


def decide(served: Served, act: str) -> None:
    """Revoke the tablet, or admit it again."""
    with served.session() as session:
        revoke_or_admit(
            session,
            person_id=LEAD.id,
            tablet_id=session.scalars(select(Tablet.id)).one(),
            act=act,
            reason="It was left in a taxi.",
            act_id=uuid4(),
            now=datetime.now(UTC),
        )
        session.commit()


def let_in(served: Served, *, active: bool) -> None:
    """Let the technician sign in, or not."""
    with served.session() as session:
        session.get_one(Person, TECHNICIAN.id).active = active
        session.commit()


def sign_in_again(page: Page) -> None:
    page.get_by_label("Sign-in name").fill(TECHNICIAN.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def test_a_session_a_tablet_or_a_person_that_is_turned_away_loses_nothing(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    signal = page.locator("#signal")
    context.clear_cookies()
    add_note(page, "the session has ended")
    expect(signal).to_contain_text("Sign in again to send · 1 entry kept")
    signal.get_by_role("link").click()
    expect(page.locator("#waits-here")).to_contain_text(f"{TECHNICIAN.name} · 1 entry")
    sign_in_again(page)
    expect(signal).to_have_text(RECORDED)

    decide(served, "revoke")
    add_note(page, "the tablet is revoked")
    expect(signal).to_contain_text("not taken: This tablet was revoked: It was left")
    decide(served, "admit")
    expect(signal).to_have_text(RECORDED)

    let_in(served, active=False)
    add_note(page, "the person is deactivated")
    expect(signal).to_contain_text("Sign in again to send · 1 entry kept")
    signal.get_by_role("link").click()
    sign_in_again(page)
    expect(page.get_by_text("do not belong together")).to_be_visible()
    expect(page.locator("#waits-here")).to_contain_text(f"{TECHNICIAN.name} · 1 entry")
    let_in(served, active=True)
    sign_in_again(page)
    expect(signal).to_have_text(RECORDED)
    assert notes(served, card_id) == {
        "the session has ended",
        "the tablet is revoked",
        "the person is deactivated",
    }
    context.close()


def at_complete_card(page: Page, served: Served) -> UUID:
    """Open a card on which nothing is to come but its signature; return its id."""
    with served.session() as session:
        work = AtWork.now(session)
        work.read(*CARD, *["9.0"] * 9)
        work.confirm(*CARD, after=True)
        session.commit()
        card_id, round_id = work.card(*CARD).id, work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.get_by_role("button", name="Sign as performed")).to_be_visible()
    return card_id


def test_an_entry_for_a_card_that_was_signed_meanwhile_is_kept_and_shown(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = at_complete_card(page, served)
    hold_program(page)
    context.set_offline(True)
    add_note(page, "rain on the roof")
    add_note(page, "a drawer was stiff")
    with served.session() as session:
        AtWork.resume(session).sign(CARD)
        session.commit()
    context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("2 entries came back")
    page.reload()
    back = page.get_by_role("region", name="Came back to this tablet")
    expect(back).to_contain_text("This card is signed; the lead can return it to you.")
    expect(back.get_by_role("button", name="Record it again")).to_have_count(0)
    check_page(page)
    page.once("dialog", lambda dialog: dialog.accept())
    with page.expect_request("**/told") as told:  # the gate waits for one less
        back.get_by_role("button", name="Drop it Note: a drawer was stiff").click()
    assert told.value.post_data_json["entries"] == 1
    expect(page.locator("#signal")).to_contain_text("1 entry came back")
    with served.session() as session:
        AtWork.resume(session).give_back(*CARD)
        session.commit()
    back.get_by_role("button", name="Record it again").click()
    expect(page.locator("#signal")).to_have_text(RECORDED)
    assert notes(served, card_id) == {"rain on the roof"}
    context.close()
