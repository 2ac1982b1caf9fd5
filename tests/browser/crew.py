"""What the tests do in the browser: sign in, read a page's faults, walk a card."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page, expect
from sqlalchemy.orm import Session

from tests.browser.chromium import PATIENCE_MS
from tests.browser.conftest import Served
from tests.scenario import PASSWORD, Cast, Work

TABLET_UPRIGHT, TABLET, DESK = (768, 1024), (1024, 768), (1440, 900)
RULES = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]
AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text("utf-8")
LOOK_FOR_FAULTS = """(rules) => axe.run(document, {
    runOnly: {type: rules[0].startsWith('wcag') ? 'tag' : 'rule', values: rules},
    rules: {'label-content-name-mismatch': {enabled: true}},
    resultTypes: ['violations'], elementRef: false})"""
OPEN = "open for readings"  # said on a card on which everything stands
# WCAG 2.2, 2.5.8 asks for 24 px; a gloved finger needs twice that (house rule).
LEAST_TARGET = 48
SMALL = """(least) => [...document.querySelectorAll(
    '#main input:not([type=radio], [type=checkbox], .out-of-sight), '
    + '#main .choice, #main select, #main .outcome')]
  .filter((one) => one.offsetParent && one.offsetHeight < least)
  .map((one) => `${one.tagName} ${one.id || one.className} ${one.offsetHeight}`)"""


class AtWork(Work):
    """A crew of the present shift: the browser works now, and idle lines lapse."""

    BEGAN_AGO = timedelta(minutes=20)

    @classmethod
    def now(
        cls, session: Session, kind: str = "acceptance", *, earlier_list: bool = False
    ) -> "Work":
        """Open a round so lately that what the crew gives still stands."""
        at = datetime.now(UTC) - cls.BEGAN_AGO
        return cls.begin(session, kind=kind, at=at, earlier_list=earlier_list)

    def tick(self, **duration: float) -> datetime:
        """Move the clock on by seconds, else it would overtake that of the machine."""
        return super().tick(**(duration or {"seconds": 2}))


def open_page(
    browser: Browser, served: Served, size: tuple[int, int]
) -> tuple[BrowserContext, Page]:
    """Open a context of its own, with touch; what goes wrong in a page fails."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        has_touch=True,
        base_url=served.url,
        accept_downloads=True,
    )
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    page.on("pageerror", _fail)
    return context, page


def _fail(error: Exception) -> None:
    raise AssertionError(f"the page threw: {error}")


def sign_in(page: Page, person: Cast) -> None:
    """Sign in as somebody of the scenario."""
    page.goto("/account/sign-in")
    page.get_by_label("Sign-in name").fill(person.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    # The sign-in page may name the person too: their entries wait.
    expect(page).not_to_have_url(re.compile("/account/sign-in"))
    expect(page.get_by_text(person.name).first).to_be_visible()


def hold_program(page: Page) -> None:
    """Wait until the tablet holds the program, so that it opens without signal."""
    page.wait_for_function(
        "() => navigator.serviceWorker.ready"
        ".then(() => import('/static/field/kept/worker.js'))"
        ".then(({ askWorker }) => askWorker({ type: 'open-key:ask' })).then(Boolean)"
    )


def check_page(page: Page) -> None:
    """Insist that axe finds nothing and that entry targets are large enough."""
    check_faults(page)
    check_layout(page)


def check_sizes(page: Page) -> None:
    """Check the page as it lies on a tablet, held either way, and on a desk."""
    for width, height in (TABLET_UPRIGHT, TABLET, DESK):
        page.set_viewport_size({"width": width, "height": height})
        check_layout(page)
    check_faults(page)


def check_themes(page: Page) -> None:
    """Check the page at every size, and its colours in every theme."""
    page.emulate_media(reduced_motion="reduce")  # else a colour is on its way
    check_sizes(page)
    for theme in ("dark", "outdoor"):
        page.evaluate(
            "(name) => {document.documentElement.dataset.theme = name}", theme
        )
        check_faults(page, ["color-contrast"])
    page.evaluate("delete document.documentElement.dataset.theme")


def check_faults(page: Page, rules: list[str] = RULES) -> None:
    """Insist that axe finds nothing."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE)
    found = page.evaluate(LOOK_FOR_FAULTS, rules)
    faults = [
        (one["id"], [node["html"][:160] for node in one["nodes"]])
        for one in found["violations"]
    ]
    assert not faults, f"{page.url}: {faults}"


def check_layout(page: Page) -> None:
    """Insist that nothing is too wide, and that entry targets are large enough."""
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0, f"{page.url} is {wide} px too wide"
    small = page.evaluate(SMALL, LEAST_TARGET)
    assert not small, f"{page.url}: {small}"


def record(page: Page, point: str, text: str) -> None:
    """Type a reading and record it with the Enter key."""
    field = page.get_by_label(f"Reading at {point}", exact=True)
    field.fill(text)
    field.press("Enter")


def verdict_at(page: Page, point: str, word: str) -> None:
    """Insist on the verdict that a point shows."""
    row = page.get_by_role("group", name=f"Point {point}", exact=True)
    expect(row.locator(".verdict").first).to_have_text(word)
