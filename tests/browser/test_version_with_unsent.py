"""A new version of the program reaches tablets that hold unsent entries of the last."""

import random
import re
import shutil
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from itertools import groupby
from operator import attrgetter
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Reading
from models.schema.engine import make_engine
from tests.browser.crew import hold_program, sign_in
from tests.browser.many_points import (
    ManyPoints,
    Typed,
    many_points,
    open_card,
    type_readings,
)
from tests.browser.served_process import ROOT, ServedProcess, served_process
from tests.browser.tablet import tablet
from tests.scenario import TECHNICIAN

pytestmark = pytest.mark.browser

POINTS_EACH = 20
UNSENT = 50  # at least, on the tablet that takes the new version: issue 11
OF_THE_TREE = ("webapp", "models", "migrations")
BEFORE = '\ndocument.documentElement.dataset.before = "yes";\n'
IS_BEFORE = "document.documentElement.dataset.before === 'yes'"
NEW = "A new version is here"
ALL_SENT = "Everything is recorded"
LONGEST_MS = 90_000  # the tablet tries again after a minute at the latest


def version_before(folder: Path) -> Path:
    """Build a tree whose field pages differ from ours, and say so."""
    for name in OF_THE_TREE:
        shutil.copytree(
            ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__")
        )
    script = folder / "webapp/static/field/app.js"
    script.write_text(script.read_text("utf-8") + BEFORE, "utf-8")
    return folder


@contextmanager
def work_without_signal(
    browser: Browser, url: str, profile: Path, round_id: object, rows: Sequence[Typed]
) -> Iterator[BrowserContext]:
    """Hold the program of today, lose the signal, and read."""
    with tablet(browser, url, profile) as context:
        page = context.pages[0]
        sign_in(page, TECHNICIAN)
        page.goto(f"/field/rounds/{round_id}/")
        hold_program(page)
        expect(page.locator("#signal")).to_have_text(ALL_SENT)
        assert page.evaluate(IS_BEFORE)
        context.set_offline(True)
        for card_id, of_card in groupby(rows, key=attrgetter("card_id")):
            open_card(page, card_id)
            type_readings(page, list(of_card))
        yield context


def unsent(page: Page) -> int:
    """Return how many entries the page says it keeps."""
    found = re.search(r"(\d+) entries", page.locator("#signal").inner_text())
    assert found
    return int(found[1])


def take_new_version(context: BrowserContext, page: Page) -> None:
    """With signal, but before anything can be sent, take the new version."""
    context.route("**/entries", lambda route: route.abort())
    context.set_offline(False)
    page.evaluate("navigator.serviceWorker.ready.then((one) => one.update())")
    expect(page.get_by_text(NEW)).to_be_visible()
    assert page.evaluate(IS_BEFORE)
    page.get_by_role("button", name="Use it now").click()
    taken = f"() => document.querySelector('#signal') && !({IS_BEFORE})"
    page.wait_for_function(taken, timeout=LONGEST_MS)
    expect(page.get_by_text(NEW)).to_have_count(0)


def test_entries_of_the_version_before_arrive_once_from_either_version(
    browser: Browser, sqlite_url: str, tmp_path: Path
) -> None:
    points = many_points(sqlite_url, 3, POINTS_EACH, random.Random(11))
    taking, staying = points.readings[: 2 * POINTS_EACH], points.readings[-3:]
    before = version_before(tmp_path / "before")
    with served_process(sqlite_url, tmp_path, before) as old, ExitStack() as leaving:
        new = ServedProcess(old.database, old.instance, old.port)
        url = f"http://127.0.0.1:{old.port}"
        round_id = points.round_id
        with (
            work_without_signal(browser, url, tmp_path / "a", round_id, taking) as one,
            work_without_signal(
                browser, url, tmp_path / "b", round_id, staying
            ) as other,
        ):
            old.kill()
            new.start()
            leaving.callback(new.kill)
            page = one.pages[0]
            held = unsent(page)
            assert held >= UNSENT
            take_new_version(one, page)
            expect(page.locator("#signal")).to_contain_text(f"{held} entries")
            one.unroute("**/entries")
            sent(one)
            sent(other)
            assert other.pages[0].evaluate(IS_BEFORE)
        check_readings(sqlite_url, points, [*taking, *staying])
        checked = new.check()
        assert checked.returncode == 0, checked.stdout + checked.stderr


def sent(context: BrowserContext) -> None:
    """Give the tablet signal, so that it sends at once, and wait until all arrived."""
    context.set_offline(True)
    context.set_offline(False)
    expect(context.pages[0].locator("#signal")).to_have_text(
        ALL_SENT, timeout=LONGEST_MS
    )


def check_readings(database: str, points: ManyPoints, typed: Sequence[Typed]) -> None:
    """Each reading that was typed is there once, and judged as the core judges it."""
    assert len(typed) < len(points.readings)
    engine = make_engine(database)
    with Session(engine) as session:
        rows = session.scalars(select(Reading)).all()
        found = [(one.point_id, one.text, one.judgement.verdict) for one in rows]
    engine.dispose()
    assert Counter(found) == Counter(
        (one.point_id, one.text, one.verdict) for one in typed
    )
