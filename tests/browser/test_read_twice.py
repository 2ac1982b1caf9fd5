"""One point read on two tablets: both stand side by side, and somebody decides."""

from datetime import timedelta

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.schema import Note, Reading
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET,
    TABLET_UPRIGHT,
    check_page,
    check_themes,
    hold_program,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.browser.test_field import open_card, ready, stored
from tests.scenario import IR, SECOND, TECHNICIAN, Work

pytestmark = pytest.mark.browser
MINE = {"A-G": "8.4", "B-G": "2.1", "C-G": "8.6"}
THEIRS = {"A-G": "9.9", "B-G": "9.8", "C-G": "9.7"}


def read_meanwhile(served: Served, page: Page) -> None:
    """Read the three points on the tablet of somebody else, who has signal."""
    with served.session() as session:
        work = Work.resume(session)
        work.confirm("breaker 52", IR, by=SECOND)
        session.commit()
        card_id, round_id = work.card("breaker 52", IR).id, work.round_id
    sign_in(page, SECOND)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    ready(page)
    for point, text in THEIRS.items():
        record(page, point, text)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")


def test_a_point_read_on_two_tablets_shows_both_and_asks(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    ready(page)
    context.set_offline(True)
    for point, text in MINE.items():
        record(page, point, text)
    expect(page.locator("#signal")).to_contain_text("3 entries kept on this tablet")
    other, theirs = open_page(browser, served, TABLET)
    read_meanwhile(served, theirs)
    context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("3 entries came back")
    twice = page.get_by_role("region", name="B-G was read twice")
    for said in ("9.8 GΩ", "within", SECOND.name, "2.1 GΩ", "outside", TECHNICIAN.name):
        expect(twice).to_contain_text(said)
    check_page(page)
    check_themes(page)
    context.set_offline(True)  # what was heard can be decided without signal
    page.reload()
    retest = page.get_by_role("button", name="Record mine as a retest at A-G")
    retest.click()
    expect(page.get_by_text("Say why it is a retest.")).to_be_visible()
    reason = page.get_by_role("region", name="A-G was read twice").get_by_role(
        "textbox"
    )
    reason.fill("the lead was loose")
    retest.click()
    verdict_at(page, "A-G", "within")
    expect(page.get_by_text("before: 9.9 GΩ")).to_be_visible()
    page.get_by_role("button", name="stand, note mine at B-G").click()
    expect(page.get_by_text("B-G was also read as 2.1 GΩ, outside")).to_be_visible()
    page.once("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Drop mine at C-G").click()
    expect(page.get_by_text("was read twice")).to_have_count(0)
    context.set_offline(False)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert stored(served, card_id) == 4
    with served.session() as session:
        notes = session.scalars(select(Note).where(Note.card_id == card_id)).all()
        (again,) = session.scalars(select(Reading).where(Reading.text == "8.4"))
        assert again.reason == "the lead was loose" and again.by_id == TECHNICIAN.id
        first = session.get_one(Reading, again.supersedes_id)
        assert (first.text, first.by_id) == ("9.9", SECOND.id)
        # It keeps the time at which it was taken: before the one that it retests.
        assert again.arrived_at - again.taken_at > timedelta(seconds=1)
        assert again.taken_at < first.taken_at
    assert [
        note.text.count("The reading of Ida Plover was let stand.") for note in notes
    ] == [1]
    context.close()
    other.close()
