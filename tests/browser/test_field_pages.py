"""Every page of the field area, in the states that matter, can be read and pressed.

In three themes, held either way: axe finds nothing, no target is below 48 px, nothing
is wider than the tablet, no text has less contrast than 7:1, and what can be pressed is
reached by the Tab key.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from models.schema import Point
from tests.browser.conftest import Served
from tests.browser.crew import (
    AXE,
    LEAST_TARGET,
    LOOK_FOR_FAULTS,
    OPEN,
    RULES,
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    hold_program,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.browser.test_field import ready
from tests.browser.test_photographs import camera_picture, choose
from tests.browser.test_sending import choke_on
from tests.laws import THOROUGH
from tests.scenario import CR, IR, RT, TECHNICIAN, Work
from tests.shift import CELL, Shift

pytestmark = pytest.mark.browser

MEASURES = (Path(__file__).parent / "measures.js").read_text("utf-8")
LEAST_CONTRAST = 7.0  # WCAG 2.2, 1.4.6 for text of any size
THEMES = ("paper", "dark", "outdoor")
PUT_ON = "(theme) => {document.documentElement.dataset.theme = theme}"
# The bar at the bottom lies over what is scrolled under it: targets are measured by us.
LOOK = LOOK_FOR_FAULTS.replace("rules: {", "rules: {'target-size': {enabled: false}, ")
# Which elements listen for a press: each has to be reached by the keyboard as well.
LISTENERS = """
    window.pressed = new Set();
    const listen = EventTarget.prototype.addEventListener;
    EventTarget.prototype.addEventListener = function (kind, ...rest) {
      const isPress = ["click", "pointerdown", "dblclick"].includes(kind);
      if (isPress && this instanceof Element) window.pressed.add(new WeakRef(this));
      return listen.call(this, kind, ...rest);
    };
"""
# A release of the program that waits, as the browser tells of it.
VERSION = """async () => {
    const { announceVersion } = await import("/static/field/shell/version.js");
    const waiting = { postMessage() {} };
    announceVersion({ waiting, addEventListener() {}, update: async () => {} });
}"""


@dataclass(slots=True)
class Eye:
    """Looks at a page in every theme; *faults* is what it found."""

    page: Page
    faults: list[str] = field(default_factory=list)
    seen: int = 0

    def look(self, name: str) -> None:
        """Look at what is there, upright and lying by turns; both when thorough."""
        if not self.page.evaluate("'axe' in window"):
            self.page.evaluate(AXE)
        if not self.page.evaluate("'measures' in window"):
            self.page.evaluate(MEASURES)
        for theme in THEMES:
            self.page.evaluate(PUT_ON, theme)
            self.seen += 1
            ways = (TABLET_UPRIGHT, TABLET)
            for size in ways if THOROUGH else ways[self.seen % 2 :][:1]:
                self.page.set_viewport_size({"width": size[0], "height": size[1]})
                where = f"{name}, {theme}, {size[0]} px"
                self.measure(where)
                # Colours alone differ between themes.
                whole = THOROUGH or theme == "paper"
                self.look_for_faults(where, RULES if whole else ["color-contrast"])
        self.page.evaluate(PUT_ON, "paper")

    def measure(self, where: str) -> None:
        """Measure one page in one theme, held one way."""
        wide = self.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        self.note(where, "too wide", [f"{wide} px"] if wide > 0 else [])
        small = self.page.evaluate("measures.small", LEAST_TARGET)
        self.note(where, "too small", small)
        pale = self.page.evaluate("measures.pale", LEAST_CONTRAST)
        self.note(where, "too pale", pale)
        unreached = self.page.evaluate("measures.unreached()")
        self.note(where, "not by keyboard", unreached)

    def look_for_faults(self, where: str, rules: list[str]) -> None:
        """Let axe look."""
        for one in self.page.evaluate(LOOK, rules)["violations"]:
            self.note(where, one["id"], [node["html"][:160] for node in one["nodes"]])

    def note(self, where: str, what: str, found: Sequence[str]) -> None:
        self.faults += [f"{where}: {what}: {one}" for one in found]


def at_work(served: Served) -> Shift:
    """Open a round with all wider scopes, a signed card, a card begun, one open."""
    with served.session() as session:
        work = AtWork.now(session)
        shift = Shift(work)
        shift.open()
        work.fill("relay 51", RT)
        work.read("bus", IR, "5.1", "5.2", "5.3")
        work.confirm("breaker 52", IR)
        session.commit()
    return shift


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).first.click()


def test_every_page_of_the_field(browser: Browser, served: Served) -> None:
    shift = at_work(served)
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    page.emulate_media(reduced_motion="reduce")  # else a colour is on its way
    page.add_init_script(LISTENERS)
    eye = Eye(page)
    sign_in(page, TECHNICIAN)
    hold(page, shift)
    look_at_rounds(eye, shift)
    look_at_cards(eye, served, shift)
    look_without_signal(eye, served, context, shift)
    look_at_safety(eye, shift)
    look_at_the_door(eye, context)
    context.close()
    assert not eye.faults, "\n".join(eye.faults)


FAULTY = """<p style="color: #777">pale</p><a href="/" style="display: block">low</a>
    <button tabindex="-1" style="padding: 30px">left out</button>
    <div id="deaf" style="padding: 30px">deaf</div>"""


def test_the_measures_find_what_they_look_for(browser: Browser) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(LISTENERS)
    page.goto("data:text/html,<title>faults</title>")
    page.evaluate(MEASURES)
    page.evaluate("(html) => {document.body.innerHTML = html}", FAULTY)
    page.evaluate("document.querySelector('#deaf').addEventListener('click', () => {})")
    assert [one.split('"')[1] for one in page.evaluate("measures.pale(7)")] == ["pale"]
    assert [one.split('"')[1] for one in page.evaluate("measures.small(48)")] == ["low"]
    unreached = page.evaluate("measures.unreached()")
    assert [one.split('"')[1] for one in unreached] == ["deaf", "left out"]
    context.close()


def hold(page: Page, shift: Shift) -> None:
    """Have the program on the tablet, so that it opens without signal."""
    page.goto(f"/field/rounds/{shift.work.round_id}/")
    expect(page.locator("h1")).to_contain_text("front elevation")
    hold_program(page)


def go(eye: Eye, shift: Shift, place: str, title: str) -> None:
    eye.page.goto(f"/field/rounds/{shift.work.round_id}/#/{place}")
    expect(eye.page.locator("h1").first).to_contain_text(title)
    eye.look(f"#/{place}")


def look_at_rounds(eye: Eye, shift: Shift) -> None:
    page = eye.page
    page.goto("/field/")
    expect(page.get_by_role("button", name="Take along")).to_be_visible()
    eye.look("rounds")
    go(eye, shift, "", "front elevation")
    go(eye, shift, f"cells/{CELL}", "front elevation")
    page.evaluate(VERSION)
    expect(page.get_by_role("button", name="Use it now")).to_be_visible()
    eye.look("a new version")
    page.reload()
    go(eye, shift, "scan", "Scan a label")
    page.goto(f"/field/rounds/{shift.work.round_id}/#/wire")
    expect(page.get_by_label("Query for a resistance")).to_be_visible()
    eye.look("#/wire")
    page.locator(".menu summary").click()
    eye.look("menu")


def look_at_cards(eye: Eye, served: Served, shift: Shift) -> None:
    page, work = eye.page, shift.work
    card = work.card("breaker 52", IR)
    page.goto(f"/field/rounds/{work.round_id}/#/cards/{card.id}")
    expect(page.get_by_text(OPEN)).to_be_visible()
    eye.look("a card that is open")
    ready(page)
    for point, text, word in (
        ("A-G", "8.4", "within"),
        ("B-G", "2.1", "outside"),
        ("C-G", ">3", "unjudged"),
    ):
        record(page, point, text)
        verdict_at(page, point, word)
    page.get_by_role("button", name="why").first.click()
    eye.look("a card with readings")
    press(page, "Keypad")
    page.get_by_label("Reading at C-G", exact=True)
    eye.look("keypad")
    press(page, "Hide keypad")
    press(page, "Raise deficiency")
    eye.look("a deficiency")
    page.reload()
    choose(page, "IMG_1.JPG", camera_picture())
    expect(page.get_by_role("dialog")).to_be_visible()
    eye.look("photograph")
    page.get_by_label("What it shows").fill("Left side")
    press(page, "Keep photograph")
    expect(page.get_by_role("dialog")).to_have_count(0)
    eye.look("a card with a photograph")
    for label, procedure, name in (
        ("breaker 52", CR, "a card with safety lines"),
        ("relay 51", RT, "a signed card"),
    ):
        page.goto(
            f"/field/rounds/{work.round_id}/#/cards/{work.card(label, procedure).id}"
        )
        expect(page.locator("h1")).to_contain_text(label)
        eye.look(name)


def look_at_safety(eye: Eye, shift: Shift) -> None:
    go(eye, shift, "safety", "Safety of this round")
    go(eye, shift, "safety/crew", "Crew")
    go(eye, shift, f"safety/isolation/{shift.isolation}", "Clearance")
    go(eye, shift, f"safety/cells/{CELL}", "Cell 1")
    go(eye, shift, f"safety/return/{shift.isolation}", "Hand back")
    press(eye.page, "Stop work")
    press(eye.page, "Release …")
    eye.look("work is stopped")
    eye.page.get_by_role("button", name="Release the stop").click()
    eye.look("a stop to be released")


def look_without_signal(
    eye: Eye, served: Served, context: BrowserContext, shift: Shift
) -> None:
    """An entry that waits, one set aside, a point that somebody else read meanwhile."""
    page, work = eye.page, shift.work
    first, second = [point.label for point in work.card("breaker 52", IR).points[3:5]]
    place = f"/field/rounds/{work.round_id}/#/cards/{work.card('breaker 52', IR).id}"
    choked = choke_on(served, "41.7")
    context.set_offline(True)
    page.goto(place)
    record(page, first, "41.7")
    record(page, second, "44")
    expect(page.locator("#signal")).to_contain_text("2 entries kept on this tablet")
    eye.look("a card without signal")
    with served.session() as session:
        there = Work.resume(session)
        there.store(
            there.reading(
                there.card("breaker 52", IR), point_named(there, second), "39"
            )
        )
        session.commit()
    context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("1 entry set aside")
    expect(page.get_by_role("button", name="Drop mine")).to_be_visible()
    eye.look("a point that was read twice")
    page.goto(f"/field/rounds/{work.round_id}/#/tablet")
    expect(page.get_by_text("41.7 GΩ")).to_be_visible()
    eye.look("on this tablet, something set aside")
    choked.clear()
    press(page, "Try again")
    expect(page.get_by_text("41.7 GΩ")).to_have_count(0)


def look_at_the_door(eye: Eye, context: BrowserContext) -> None:
    """Without signal the list is what this tablet holds; signed out, it asks who."""
    page = eye.page
    context.set_offline(True)
    page.goto("/field/")
    expect(page.get_by_role("heading", name="On this tablet")).to_be_visible()
    eye.look("on this tablet, without signal")
    page.locator(".menu summary").click()
    press(page, "Sign out")
    expect(page.get_by_role("heading", name="Open this tablet")).to_be_visible()
    eye.look("unlock")


def point_named(work: Work, label: str) -> Point:
    points = work.card("breaker 52", IR).points
    return next(point for point in points if point.label == label)
