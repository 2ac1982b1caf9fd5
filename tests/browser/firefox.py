"""A tablet with Firefox, as Debian packages it: its profile outlives the browser."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from playwright.sync_api import BrowserContext, Error, Playwright

from tests.browser.chromium import PATIENCE_MS
from tests.browser.crew import TABLET_UPRIGHT

# Playwright speaks WebDriver BiDi to the Firefox that is installed; which versions of
# it can, stands in pyproject.toml.
CHANNEL = "moz-firefox"


@contextmanager
def firefox_tablet(
    playwright: Playwright, url: str, profile: Path
) -> Iterator[BrowserContext]:
    """Start Firefox without a window on a profile, and close it in the end."""
    path = shutil.which("firefox-esr") or shutil.which("firefox")
    assert path, "firefox-esr is not installed"
    context = playwright.firefox.launch_persistent_context(
        profile,
        channel=CHANNEL,
        executable_path=path,
        viewport={"width": TABLET_UPRIGHT[0], "height": TABLET_UPRIGHT[1]},
        base_url=url,
    )
    context.set_default_timeout(PATIENCE_MS)
    yield context
    with suppress(Error):  # it was killed
        context.close()
