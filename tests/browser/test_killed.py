"""A browser that is killed loses nothing that it showed as kept."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from sqlalchemy import select

from models.schema import Reading
from models.services.keeping.check_record import check_record
from tests.browser.conftest import Served
from tests.browser.crew import PASSWORD, hold_program, record, verdict_at
from tests.browser.kept_on_disk import type_and_keep
from tests.browser.tablet import kill, let_open_without_signal, tablet, unlock
from tests.browser.test_field import open_card, ready
from tests.scenario import IR, TECHNICIAN

pytestmark = pytest.mark.browser
TYPED = {"A-G": "8.4", "B-G": "8.5", "C-G": "8.6"}


def test_a_browser_killed_twice_without_signal_loses_nothing(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    profile = tmp_path / "profile"
    with tablet(browser, served.url, profile) as context:
        page = context.pages[0]
        card_id = open_card(page, served, "breaker 52", IR)
        hold_program(page)
        let_open_without_signal(page)
        page.goto(f"{page.url.split('#')[0]}#/cards/{card_id}")
        context.set_offline(True)
        ready(page)
        record(page, "A-G", TYPED["A-G"])
        expect(page.locator("#signal")).to_contain_text("1 entry kept")
        address = page.url
        kill(profile)
    with tablet(browser, served.url, profile) as context:
        context.set_offline(True)
        page = context.pages[0]
        page.goto(address)
        unlock(page)
        verdict_at(page, "A-G", "within")
        record(page, "B-G", TYPED["B-G"])
        expect(page.locator("#signal")).to_contain_text("2 entries kept")
        type_and_keep(page.get_by_label("Reading at C-G"), TYPED["C-G"])
        kill(profile)
    with tablet(browser, served.url, profile) as context:
        page = context.pages[0]
        page.goto(address)
        expect(page.get_by_text("Unsent on this tablet")).to_contain_text("2 entries")
        page.get_by_label("Sign-in name").fill(TECHNICIAN.sign_in)
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_label("Reading at C-G")).to_have_value(TYPED["C-G"])
        page.get_by_label("Reading at C-G").press("Enter")
        expect(page.locator("#signal")).to_have_text("Everything is recorded")
    with served.session() as session:
        readings = session.scalars(select(Reading)).all()
        points = {reading.point.label: reading.text for reading in readings}
        assert points == TYPED and len(readings) == len(TYPED)
        assert {reading.by_id for reading in readings} == {TECHNICIAN.id}
        assert check_record(session).faults == []
