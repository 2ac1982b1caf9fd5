"""A browser that is killed loses nothing that it showed as kept."""

import os
import shutil
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect
from sqlalchemy import select

from models.schema import Reading
from models.services.keeping.check_record import check_record
from tests.browser.chromium import ARGUMENTS
from tests.browser.conftest import Served
from tests.browser.crew import (
    PASSWORD,
    TABLET_UPRIGHT,
    hold_program,
    record,
    verdict_at,
)
from tests.browser.test_field import open_card, ready
from tests.scenario import IR, TECHNICIAN

pytestmark = pytest.mark.browser
TYPED = {"A-G": "8.4", "B-G": "8.5", "C-G": "8.6"}


@contextmanager
def tablet(browser: Browser, served: Served, profile: Path) -> Iterator[BrowserContext]:
    """Start a browser of its own on a profile that outlives it."""
    context = browser.browser_type.launch_persistent_context(
        profile,
        executable_path=shutil.which("chromium"),
        args=ARGUMENTS,
        viewport={"width": TABLET_UPRIGHT[0], "height": TABLET_UPRIGHT[1]},
        base_url=served.url,
    )
    context.set_default_timeout(10000)
    yield context
    with suppress(Error):  # it was killed
        context.close()


def kill(profile: Path) -> None:
    """End every process of the browser at once, as a flat battery does."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            command = (process / "cmdline").read_bytes()
        except OSError:
            continue
        if str(profile).encode() in command:
            os.kill(int(process.name), signal.SIGKILL)


def unlock(page: Page) -> None:
    """Open the tablet by the password, as after a restart without signal."""
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Open", exact=True).click()


def test_a_browser_killed_twice_without_signal_loses_nothing(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    profile = tmp_path / "profile"
    with tablet(browser, served, profile) as context:
        page = context.pages[0]
        card_id = open_card(page, served, "breaker 52", IR)
        hold_program(page)
        page.goto(f"{page.url.split('#')[0]}#/tablet")
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Let it open without signal").click()
        expect(page.get_by_text("From now on this tablet opens")).to_be_visible()
        page.goto(f"{page.url.split('#')[0]}#/cards/{card_id}")
        context.set_offline(True)
        ready(page)
        record(page, "A-G", TYPED["A-G"])
        expect(page.locator("#signal")).to_contain_text("1 entry kept")
        address = page.url
        kill(profile)
    with tablet(browser, served, profile) as context:
        context.set_offline(True)
        page = context.pages[0]
        page.goto(address)
        unlock(page)
        verdict_at(page, "A-G", "within")
        record(page, "B-G", TYPED["B-G"])
        page.get_by_label("Reading at C-G").fill(TYPED["C-G"])
        expect(page.locator("#signal")).to_contain_text("2 entries kept")
        page.wait_for_timeout(500)  # drafts are written each 150 ms
        kill(profile)
    with tablet(browser, served, profile) as context:
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
