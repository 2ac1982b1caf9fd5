"""A real Chromium, and the program as it is served to it."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from threading import Thread
from typing import Any

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
from tests.scenario import APPARATUS, SECRET, build, fixed_id
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


@pytest.fixture
def served(sqlite_url: str) -> Iterator[Served]:
    """The program on a port of its own, with the made-up place in its database."""
    with serve(sqlite_url) as served:
        yield served


@pytest.fixture
def served_singly(sqlite_url: str) -> Iterator[Served]:
    """The same; a page loads its modules one by one, so that a test reaches them."""
    with serve(sqlite_url, single_files=True) as served:
        yield served


@contextmanager
def serve(
    sqlite_url: str,
    *,
    single_files: bool = False,
    apparatus: Sequence[Any] = APPARATUS,
) -> Iterator[Served]:
    """Serve the program on a port of its own, with the made-up place."""
    engine = make_engine(sqlite_url)
    with Session(engine, expire_on_commit=False) as session:
        build(session, apparatus)
        calibrate_until_now(session)
        session.commit()
    config = Config(database=sqlite_url, secret=SECRET, single_files=single_files)
    app = create_app(config)
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield Served(f"http://127.0.0.1:{server.server_port}", sqlite_url, engine, app)
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
