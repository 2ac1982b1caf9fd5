"""An empty instance, to a signed-in administrator."""

from collections.abc import Iterator
from threading import Thread

import pytest
from playwright.sync_api import Browser, expect
from werkzeug.serving import make_server

from models.schema.engine import make_engine
from tests.browser.conftest import Served
from tests.browser.crew import TABLET_UPRIGHT, check_themes, open_page
from tests.scenario import PASSWORD, SECRET
from webapp import create_app
from webapp.commands.serve import code_of_first_start
from webapp.config import Config

pytestmark = pytest.mark.browser


@pytest.fixture
def empty(sqlite_url: str) -> Iterator[Served]:
    """The program as it is served where nobody has been yet."""
    app = create_app(Config(database=sqlite_url, secret=SECRET))
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    engine = make_engine(sqlite_url)
    yield Served(f"http://127.0.0.1:{server.server_port}", sqlite_url, engine, app)
    server.shutdown()
    thread.join()
    app.extensions["engine"].dispose()
    engine.dispose()


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
