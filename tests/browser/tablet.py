"""A tablet: a browser whose profile outlives it, killed as a flat battery does."""

import os
import shutil
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Error, Page, expect

from tests.browser.chromium import ARGUMENTS, PATIENCE_MS
from tests.browser.crew import TABLET_UPRIGHT
from tests.scenario import PASSWORD


@contextmanager
def tablet(browser: Browser, url: str, profile: Path) -> Iterator[BrowserContext]:
    """Start a browser of its own on a profile that outlives it."""
    context = browser.browser_type.launch_persistent_context(
        profile,
        executable_path=shutil.which("chromium"),
        args=ARGUMENTS,
        viewport={"width": TABLET_UPRIGHT[0], "height": TABLET_UPRIGHT[1]},
        base_url=url,
    )
    context.set_default_timeout(PATIENCE_MS)
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
            with suppress(ProcessLookupError):
                os.kill(int(process.name), signal.SIGKILL)


def unlock(page: Page) -> None:
    """Open the tablet by the password, as after a restart without signal."""
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Open", exact=True).click()


def let_open_without_signal(page: Page) -> None:
    """Give the password once, so that it opens the tablet after a restart."""
    page.goto(f"{page.url.split('#')[0]}#/tablet")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Let it open without signal").click()
    expect(page.get_by_text("From now on this tablet opens")).to_be_visible()
