"""How much a tablet loads at first, nothing after that, and how it changes version."""

from collections.abc import Iterable

import pytest
from playwright.sync_api import Browser, Page, Request, expect

from tests.browser.conftest import Served
from tests.browser.crew import TABLET_UPRIGHT, hold_program, open_page
from tests.browser.kept_on_disk import type_and_keep
from tests.browser.test_field import open_card, ready
from tests.scenario import IR
from webapp.field.shell import Shell

pytestmark = pytest.mark.browser
LARGEST = 300_000  # bytes over the wire: issue 11
OF_THE_PROGRAM = ("document", "script", "stylesheet")


def test_the_first_load_is_small_and_the_next_asks_for_nothing(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    finished: list[Request] = []
    page.on("requestfinished", lambda one: finished.append(one))
    open_card(page, served, "breaker 52", IR)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    loaded = of_the_program(finished)
    assert program_of(loaded)
    over_the_wire = sum(weight_of(page, url) for url in {one.url for one in loaded})
    assert 50_000 < over_the_wire < LARGEST
    hold_program(page)
    finished.clear()
    page.reload()
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert program_of(finished)
    asked = [one.url for one in of_the_program(finished) if not from_worker(one)]
    assert asked == []
    context.close()


def of_the_program(finished: Iterable[Request]) -> list[Request]:
    """Return what belongs to the field application: not the sign-in, not the list."""
    return [
        one
        for one in finished
        if one.resource_type in OF_THE_PROGRAM
        and (one.resource_type != "document" or "/field/rounds/" in one.url)
    ]


def weight_of(page: Page, url: str) -> int:
    """Return the bytes of an answer as it is sent, compressed."""
    return int(page.request.get(url).headers["content-length"])


def program_of(finished: Iterable[Request]) -> list[Request]:
    """Return the joined script and style sheet."""
    return [one for one in finished if "/field/program-" in one.url]


def from_worker(request: Request) -> bool:
    answer = request.response()
    return answer is not None and answer.from_service_worker


def test_a_new_version_waits_until_it_is_taken(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    open_card(page, served, "breaker 52", IR)
    hold_program(page)
    page.reload()
    ready(page)
    type_and_keep(page.get_by_label("Reading at A-G"), "8.4")
    before = version_of(page)
    old: Shell = served.app.extensions["shell"]
    newer = Shell(old.files, old.page.replace("Opening", "Beginning"))
    served.app.extensions["shell"] = newer
    page.evaluate("navigator.serviceWorker.ready.then((one) => one.update())")
    expect(page.get_by_text("A new version is here")).to_be_visible()
    page.reload()
    expect(page.get_by_text("A new version is here")).to_be_visible()
    assert version_of(page) == before
    page.get_by_role("button", name="Use it now").click()
    page.wait_for_function(
        "(before) => document.documentElement.dataset.program !== before", arg=before
    )
    assert version_of(page) == newer.version
    expect(page.get_by_label("Reading at A-G")).to_have_value("8.4")
    expect(page.get_by_text("A new version is here")).to_have_count(0)
    context.close()


def version_of(page: Page) -> str:
    return str(page.evaluate("document.documentElement.dataset.program"))
