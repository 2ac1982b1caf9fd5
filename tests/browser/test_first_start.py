"""An empty instance, to a signed-in administrator."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Served, app_of, serve
from tests.browser.crew import TABLET_UPRIGHT, check_themes, open_page
from tests.scenario import PASSWORD, SECRET
from webapp.commands.serve import code_of_first_start
from webapp.config import Config

pytestmark = pytest.mark.browser


@pytest.fixture
def empty(sqlite_url: str) -> Iterator[Served]:
    """The program as it is served where nobody has been yet."""
    with serve(app_of(sqlite_url), sqlite_url) as served:
        yield served


def test_three_steps_with_the_keyboard_alone(browser: Browser, empty: Served) -> None:
    code = code_of_first_start(Config(database=empty.database, secret=SECRET))
    context, page = open_page(browser, empty, TABLET_UPRIGHT)
    page.goto("/")
    check_themes(page)
    page.get_by_label("Code").focus()
    for text in (code, "Fathom Line Testing", "1 Quay"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_label("Your name").focus()
    check_themes(page)
    for text in ("Ada Wren", "wren", PASSWORD, PASSWORD):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.press("Space")  # also a lead
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Write this down")).to_be_visible()
    check_themes(page)
    page.get_by_label("I have written it down").focus()
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(page.get_by_text("you are signed in")).to_be_visible()
    check_themes(page)
    expect(page.get_by_text("none yet")).to_have_count(5)
    page.get_by_role("link", name="Installation").click()
    expect(page.get_by_role("heading", name="Head of the log")).to_be_visible()
    check_themes(page)
    context.close()
