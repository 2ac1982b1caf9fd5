"""A real Chromium without a window."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Playwright, sync_playwright

# As root and in containers Chromium has neither a sandbox nor a large /dev/shm.
ARGUMENTS = (
    "--no-sandbox",
    "--disable-dev-shm-usage",
    "--disable-gpu",
    "--disable-quic",
    "--disable-sync",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
)
# A slow machine is no failure; what comes sooner is waited for no longer.
PATIENCE_MS = 25_000


@contextmanager
def chromium() -> Iterator[Browser]:
    """Launch the browser, and close it in the end."""
    with sync_playwright() as playwright, chromium_of(playwright) as browser:
        yield browser


@contextmanager
def chromium_of(playwright: Playwright) -> Iterator[Browser]:
    """Launch the browser by a driver that others use too; close it in the end."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    assert path, "chromium is not installed"
    browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
    yield browser
    browser.close()
