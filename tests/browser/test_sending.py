"""What is unsent on a tablet: one bad entry stops nothing; a file carries it off."""

import json
from collections.abc import Sequence
from pathlib import Path
from uuid import UUID

import pytest
from flask import request
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.schema import Attachment
from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
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
from tests.browser.test_photographs import camera_picture, choose
from tests.scenario import IR, LEAD, TECHNICIAN

pytestmark = pytest.mark.browser
LONGEST_MS = 90_000  # the tablet tries again after a minute at the latest


def test_the_one_entry_that_the_server_cannot_take_is_set_aside(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    ready(page)

    choked = choke_on(served, "7.77")
    context.set_offline(True)
    for point, typed in (("A-G", "8.4"), ("B-G", "7.77"), ("C-G", "8.6")):
        record(page, point, typed)
        verdict_at(page, point, "within")
    context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("1 entry set aside")
    expect(page.locator("#signal")).to_contain_text("Everything is recorded")
    assert stored(served, card_id) == 2
    verdict_at(page, "B-G", "within")  # it stays in its place on the card
    page.get_by_role("link", name="1 entry set aside").click()
    expect(page.get_by_text("7.77 GΩ")).to_be_visible()
    expect(page.get_by_text("The server answered 500")).to_be_visible()
    check_page(page)
    check_themes(page)
    page.go_back()
    keep_photograph(page)
    page.get_by_role("link", name="1 entry set aside").click()
    expect(page.get_by_text("1 entry, 1 photograph")).to_be_visible()
    with page.expect_download() as carried:
        page.get_by_role("button", name="Carry off as a file").click()
    carried.value.save_as(tmp_path / "unsent.json")
    file = json.loads((tmp_path / "unsent.json").read_text())
    assert file["person"]["name"] == TECHNICIAN.name
    assert [len(held["entries"]) for held in file["rounds"]] == [1]
    assert [len(held["photos"]) for held in file["rounds"]] == [1]
    text = json.dumps(file)
    assert "7.77" not in text and "Left side" not in text  # sealed
    take_in(browser, served, tmp_path / "unsent.json")
    assert stored(served, card_id) == 3
    taken = photographs(served, card_id)
    assert [(one.by_id, one.name) for one in taken] == [(TECHNICIAN.id, "IMG_1.jpg")]
    choked.clear()
    page.get_by_role("button", name="Try again").click()
    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("Nothing is unsent on this tablet.")).to_be_visible(
        timeout=LONGEST_MS
    )
    assert stored(served, card_id) == 3
    names = [one.name for one in photographs(served, card_id)]
    assert names == ["IMG_1.jpg", "IMG_1 original.jpg"]  # which was not in the file
    context.close()


def keep_photograph(page: Page) -> None:
    """Keep a photograph on the card; the server does not let it in for now."""
    choose(page, "IMG_1.JPG", camera_picture())
    page.get_by_label("What it shows").fill("Left side")
    page.get_by_role("button", name="Keep photograph").click()
    expect(page.get_by_role("dialog")).to_have_count(0)


def photographs(served: Served, card_id: UUID) -> Sequence[Attachment]:
    """Return what is attached to the card."""
    with served.session() as session:
        asked = select(Attachment).where(Attachment.subject_id == card_id)
        return session.scalars(asked.order_by(Attachment.at)).all()


def test_an_answer_that_is_cut_off_is_no_signal(rule_reader: Page) -> None:
    """What the server had to say is not known: it is no fault of the entries."""
    state = rule_reader.evaluate(
        """() => import("/static/field/outbox.js")
        .then(({ json }) => json(new Response('{"results": [')))
        .catch((error) => error.state ?? "no signal")"""
    )
    assert state == "no signal"


def choke_on(served: Served, text: str) -> list[str]:
    """Let the server fail on a reading, alone or with others, and on photographs.

    It does so while the reading is listed.
    """
    choked = [text]

    def fail() -> tuple[str, int] | None:
        if request.path.endswith("/photos") and choked:
            return "", 503
        if not request.path.endswith("/entries") or not request.is_json:
            return None
        texts = {entry.get("text") for entry in request.get_json()["entries"]}
        return ("", 500) if texts & set(choked) else None

    served.app.before_request_funcs.setdefault(None, []).append(fail)
    return choked


def take_in(browser: Browser, served: Served, file: Path) -> None:
    """Let a lead take the file in at the desk."""
    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    page.goto("/turnover/tablets/file")
    page.get_by_label("File of unsent entries").set_input_files(file)
    page.get_by_role("button", name="Look at it").click()
    expect(
        page.get_by_text(f"1 entry and 1 photograph of {TECHNICIAN.name}")
    ).to_be_visible()
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_text("1 of 1 entry is in the record")).to_be_visible()
    expect(page.get_by_text("1 of 1 photograph is in the record")).to_be_visible()
    context.close()
