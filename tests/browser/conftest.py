"""A real Chromium, and the program as it is served to it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from threading import Thread
from uuid import uuid4

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page, Playwright, expect, sync_playwright
from sqlalchemy import Engine
from sqlalchemy.orm import Session
from werkzeug.serving import make_server

from models.schema.engine import make_engine
from models.services.setup import assets
from tests.browser.chromium import PATIENCE_MS, chromium_of
from tests.browser.reader_page import reader_page
from tests.conftest import Stages, sqlite_address
from tests.scenario import SECRET, fixed_id
from tests.sqlite_copy import put_copy
from webapp import create_app
from webapp.config import Config


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver of browsers: one process has one."""
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One browser for the whole run; a test opens a context of its own in it."""
    with chromium_of(playwright) as browser:
        yield browser


@pytest.fixture(scope="module")
def rule_reader(browser: Browser) -> Iterator[Page]:
    """A page that can import the tablet's reader of rules."""
    with reader_page(browser) as page:
        yield page


@dataclass(frozen=True, slots=True)
class Served:
    """The program as it is served, with a lineup whose rounds a test opens itself."""

    url: str
    database: str
    engine: Engine
    app: Flask

    def session(self) -> Session:
        """Return a session, to do as the rest of the crew did."""
        return Session(self.engine, expire_on_commit=False)


class Apps:
    """Applications that were made once: each use gets the place as it was built."""

    def __init__(self, place: str, new_address: Callable[[], str]) -> None:
        """*place*: the address of the database that each begins with."""
        self._place, self._new_address = place, new_address
        self._made: dict[bool, tuple[str, Flask]] = {}

    @contextmanager
    def serving(self, *, single_files: bool = False) -> Iterator[Served]:
        """Serve the application of that kind, on a port of its own."""
        if single_files not in self._made:
            url = self._new_address()
            put_copy(self._place, url)
            self._made[single_files] = url, app_of(url, single_files=single_files)
        url, app = self._made[single_files]
        put_copy(self._place, url)
        with _as_it_was(app), serve(app, url) as served:
            yield served


@contextmanager
def _as_it_was(app: Flask) -> Iterator[None]:
    """Undo what a test does to the application itself."""
    extensions, asked = app.extensions.copy(), app.before_request_funcs[None][:]
    yield
    app.extensions = extensions
    app.before_request_funcs[None] = asked


@pytest.fixture(scope="session")
def apps(sqlite_stages: Stages, tmp_path_factory: pytest.TempPathFactory) -> Apps:
    """The applications of the run, on the made-up place as it is today."""
    place = sqlite_stages.fresh("place")
    engine = make_engine(place)
    with Session(engine, expire_on_commit=False) as session:
        calibrate_until_now(session)
        session.commit()
    engine.dispose()
    folder = tmp_path_factory.mktemp("served")
    return Apps(place, lambda: sqlite_address(folder / f"{uuid4().hex}.sqlite"))


@pytest.fixture
def served(apps: Apps) -> Iterator[Served]:
    """The program on a port of its own, with the made-up place in its database."""
    with apps.serving() as served:
        yield served


@pytest.fixture
def served_singly(apps: Apps) -> Iterator[Served]:
    """The same; a page loads its modules one by one, so that a test reaches them."""
    with apps.serving(single_files=True) as served:
        yield served


def app_of(url: str, *, single_files: bool = False) -> Flask:
    """Return the application on a database."""
    return create_app(Config(database=url, secret=SECRET, single_files=single_files))


@contextmanager
def serve(app: Flask, database: str) -> Iterator[Served]:
    """Serve the application on a port of its own."""
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    engine = make_engine(database)
    yield Served(f"http://127.0.0.1:{server.server_port}", database, engine, app)
    server.shutdown()
    thread.join()
    app.extensions["engine"].dispose()
    engine.dispose()


def calibrate_until_now(session: Session) -> None:
    """Give the test sets a calibration for today, since the browser works today."""
    today = datetime.now(UTC).date()
    for tag in ("IR-1", "CR-1", "HV-1", "RT-1"):
        assets.add_calibration(
            session,
            calibration_id=fixed_id(f"{tag} calibration of this year"),
            instrument_id=fixed_id(tag),
            calibrated_on=today - timedelta(days=30),
            due_on=today + timedelta(days=300),
            certificate_no=f"N-{tag}-2",
            laboratory="Plinth Calibration",
        )
