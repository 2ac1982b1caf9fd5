"""A day without signal in Firefox: nothing lost, everything recorded once."""

from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect
from sqlalchemy import select

from models.schema import Reading
from models.services.keeping.check_record import check_record
from tests.browser.conftest import Served
from tests.browser.crew import hold_program, record, verdict_at
from tests.browser.cut_line import line_to
from tests.browser.firefox import firefox_tablet
from tests.browser.kept_on_disk import type_and_keep
from tests.browser.tablet import kill, let_open_without_signal, unlock
from tests.browser.test_field import open_card, ready
from tests.scenario import IR, TECHNICIAN

pytestmark = [pytest.mark.browser, pytest.mark.needs("firefox")]
TYPED = {"A-G": "8.4", "B-G": "8.5", "C-G": "8.6"}


def test_a_day_without_signal_in_firefox(
    playwright: Playwright, served: Served, tmp_path: Path
) -> None:
    profile = tmp_path / "profile"
    with line_to(int(served.url.rsplit(":", 1)[1])) as line:
        with firefox_tablet(playwright, line.url, profile) as context:
            page = context.pages[0]
            card_id = open_card(page, served, "breaker 52", IR)
            hold_program(page)
            let_open_without_signal(page)
            page.goto(f"{page.url.split('#')[0]}#/cards/{card_id}")
            ready(page)
            line.cut()
            record(page, "A-G", TYPED["A-G"])
            page.get_by_label("Reading at B-G").fill(TYPED["B-G"])
            expect(page.locator("#signal")).to_contain_text("1 entry kept")
            page.reload()
            verdict_at(page, "A-G", "within")
            expect(page.get_by_label("Reading at B-G")).to_have_value(TYPED["B-G"])
            address = page.url
            page.close()
            page = context.new_page()
            page.goto(address)
            record(page, "B-G", TYPED["B-G"])
            expect(page.locator("#signal")).to_contain_text("2 entries kept")
            type_and_keep(page.get_by_label("Reading at C-G"), TYPED["C-G"])
            kill(profile)
        with firefox_tablet(playwright, line.url, profile) as context:
            page = context.pages[0]
            page.goto(address)
            unlock(page)
            verdict_at(page, "B-G", "within")
            expect(page.get_by_label("Reading at C-G")).to_have_value(TYPED["C-G"])
            page.get_by_label("Reading at C-G").press("Enter")
            expect(page.locator("#signal")).to_contain_text("3 entries kept")
            line.mend()
            page.reload()  # the session outlived the browser
            expect(page.locator("#signal")).to_have_text("Everything is recorded")
    with served.session() as session:
        readings = session.scalars(select(Reading)).all()
        points = {reading.point.label: reading.text for reading in readings}
        assert points == TYPED and len(readings) == len(TYPED)
        assert {reading.by_id for reading in readings} == {TECHNICIAN.id}
        assert check_record(session).faults == []
