"""The card for gloves and dark rooms: keys, neighbours, what carries over, timers."""

from uuid import uuid4

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from models.schema import Cell, Reading
from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET_UPRIGHT,
    AtWork,
    check_layout,
    check_themes,
    open_page,
    sign_in,
)
from tests.browser.test_field import open_card
from tests.scenario import IR, RT, TECHNICIAN, lineup_id

pytestmark = pytest.mark.browser

SMALL_KEYS = """() => [...document.querySelectorAll(".bottom-bar .button")]
    .filter((one) => one.offsetParent)
    .map((one) => [one.textContent, one.offsetWidth, one.offsetHeight])
    .filter(([, width, height]) => width < 60 || height < 60)"""
COVERED = """(name) => {
    const field = document.querySelector(`[aria-label="${name}"]`)
    const bar = document.querySelector(".bottom-bar").getBoundingClientRect()
    return field.getBoundingClientRect().bottom > bar.top
}"""


def at_card(page: Page, served: Served) -> str:
    """Open a card after another of its kind was read; return the round's page."""
    with served.session() as session:
        work = AtWork.now(session)
        work.read("bus", IR, "5.1", "5.2", "5.3")
        work.confirm("breaker 52", IR)
        session.commit()
        card_id, round_id = work.card("breaker 52", IR).id, work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.get_by_text(OPEN)).to_be_visible()
    return f"/field/rounds/{round_id}/"


def key(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).tap()


def test_a_card_is_read_with_gloves_by_its_own_keys(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served)
    # Nothing is filled in without the tap; then it says where it comes from.
    temperature = page.get_by_label("Temperature of the insulation")
    expect(temperature).to_have_value("")
    key(page, "Take over")
    expect(temperature).to_have_value("20")
    expect(page.locator("[data-carried=temperature_c]")).to_contain_text(
        "carried over from card"
    )
    expect(page.locator("#condition-instrument option:checked")).to_contain_text("IR-1")
    temperature.fill("21")
    expect(page.locator("[data-carried=temperature_c]")).to_have_count(0)
    field = page.get_by_label("Reading at A-G", exact=True)
    key(page, "Keypad")
    field.tap()
    for pressed in ("2", ". point", "5", "1", "Delete", "e times ten to the power"):
        key(page, pressed)
    key(page, "− minus")
    key(page, "4")
    expect(field).to_have_value("2.5e-4")
    # A wheel and a swipe over the field change nothing.
    field.hover()
    page.mouse.wheel(0, 200)
    expect(field).to_have_value("2.5e-4")
    unit = page.get_by_label("Unit at A-G", exact=True)
    was = unit.input_value()
    key(page, "Smaller unit")
    expect(unit).not_to_have_value(was)
    key(page, "Larger unit")
    expect(unit).to_have_value(was)
    field.fill("7.5")
    key(page, "Over range >")
    expect(field).to_have_value(">7.5")
    assert page.evaluate(SMALL_KEYS) == []
    assert not page.evaluate(COVERED, "Reading at A-G")
    check_themes(page)
    page.set_viewport_size({"width": 1024, "height": 768})
    assert page.evaluate(SMALL_KEYS) == []
    page.get_by_role("button", name="next point").tap()
    expect(page.get_by_label("Reading at B-G", exact=True)).to_be_focused()
    expect(page.locator("#signal")).to_contain_text("Everything")
    with served.session() as session:
        assert session.query(Reading).filter(Reading.text == ">7.5").count() == 1
    context.close()


def test_a_key_leads_to_the_next_card_but_not_from_a_typed_value(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served)
    here = page.url
    page.get_by_label("Reading at A-G", exact=True).fill("1")
    page.keyboard.press("PageDown")
    assert page.url == here
    page.locator("#card-title").focus()
    page.keyboard.press("PageDown")
    expect(page.locator("#card-title")).to_be_visible()
    page.wait_for_url(lambda url: url != here)
    page.keyboard.press("PageUp")
    page.wait_for_url(here)
    steps = page.evaluate(
        """async () => {
        const {swipeStep} = await import("/static/field/near_cards.js");
        const {unitBeside} = await import("/static/field/keypad.js");
        return [swipeStep({x: -120, y: 10, ms: 200}),
          swipeStep({x: 120, y: 10, ms: 200}),
          swipeStep({x: -120, y: 90, ms: 200}), swipeStep({x: -40, y: 0, ms: 100}),
          swipeStep({x: -120, y: 0, ms: 900}),
          unitBeside(["MOhm", "GOhm", "kOhm", "TOhm"], "kOhm", 1),
          unitBeside(["MOhm", "GOhm", "kOhm", "TOhm"], "kOhm", -1) ?? null]}"""
    )
    assert steps == [1, -1, 0, 0, 0, "MOhm", None]
    context.close()


# What a finger is on may be drawn anew under it: its end is told to what is gone.
SWIPE_WHILE_DRAWN = """() => {
    const on = document.querySelector('#cell-title');
    const touch = (x) =>
        new Touch({identifier: 1, target: on, clientX: x, clientY: 220});
    const tell = (kind, x, touches) => on.dispatchEvent(new TouchEvent(kind,
        {bubbles: true, touches, changedTouches: [touch(x)]}));
    tell('touchstart', 600, [touch(600)]);
    on.remove();
    tell('touchend', 300, []);
}"""


def swipe(page: Page, x: int, y: int, dx: int, dy: int) -> None:
    """Draw a finger over the page, as the browser hears it of a touch screen."""
    session = page.context.new_cdp_session(page)
    steps = [{"x": x + dx * step / 2, "y": y + dy * step / 2} for step in range(3)]
    for kind, at in zip(["touchStart"] + ["touchMove"] * 2, steps, strict=True):
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [at]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    session.detach()


def middle(one: Locator) -> tuple[int, int]:
    box = one.bounding_box()
    assert box is not None
    return int(box["x"] + box["width"] / 2), int(box["y"] + box["height"] / 2)


def test_no_movement_changes_a_value_or_leaves_it(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served)
    here = page.url
    field = page.get_by_label("Reading at B-G", exact=True)
    unit = page.get_by_label("Unit at B-G", exact=True)
    field.fill("2.1e-4")
    was = unit.input_value()
    for one in (field, unit):
        one.focus()
        one.hover()
        for way in (120, -120, 480):
            page.mouse.wheel(0, way)
    field.focus()
    for pressed in ("ArrowUp", "ArrowDown", "PageUp", "PageDown"):
        page.keyboard.press(pressed)
    for dx, dy in ((-200, 0), (200, 0), (0, -200), (0, 200)):
        field.scroll_into_view_if_needed()
        swipe(page, *middle(field), dx, dy)
    page.get_by_text("B-G", exact=True).first.scroll_into_view_if_needed()
    swipe(page, 700, 500, -300, 0)  # beside the field, while it is being typed in
    expect(field).to_have_value("2.1e-4")
    assert (unit.input_value(), page.url) == (was, here)
    # A condition is such a field as well.
    humidity = page.get_by_label("Relative humidity")
    humidity.fill("48")
    humidity.hover()
    page.mouse.wheel(0, 120)
    swipe(page, *middle(humidity), -200, 0)
    expect(humidity).to_have_value("48")
    assert page.url == here
    context.close()


def test_a_swipe_leads_to_the_neighbouring_card_and_a_key_to_the_cell(
    browser: Browser, served: Served
) -> None:
    with served.session() as session:
        second = Cell(id=uuid4(), lineup_id=lineup_id(), position=2, number="2")
        second.name, second.kind, second.bus = "Feeder", "breaker", "bus"
        session.add(second)
        session.commit()
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    at_card(page, served)
    card = page.url
    page.locator("#card-title").focus()
    swipe(page, 600, 220, -300, 10)
    page.wait_for_url(lambda url: url != card)
    expect(page.locator("#card-title")).to_be_focused()
    swipe(page, 300, 220, 300, 10)
    page.wait_for_url(card)
    page.get_by_role("link", name="‹ Elevation").click()
    page.wait_for_url(lambda url: "#/cells/" in url)
    cell = page.url
    title = page.locator("#cell-title")
    words = title.text_content()
    expect(title).to_be_focused()
    page.keyboard.press("PageDown")
    page.wait_for_url(lambda url: url != cell)
    expect(title).not_to_have_text(words or "")
    page.keyboard.press("PageUp")
    page.wait_for_url(cell)
    expect(title).to_have_text(words or "")
    page.evaluate(SWIPE_WHILE_DRAWN)
    page.wait_for_url(lambda url: url != cell)
    expect(title).not_to_have_text(words or "")
    context.close()


def test_a_relay_that_had_not_operated_is_over_range_and_the_bar_stays(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    open_card(page, served, "relay 51", RT)
    main = page.locator(".bottom-main")
    first = page.locator("[data-point]").first
    first.tap()
    before = main.bounding_box()
    first.fill("60")
    key(page, "Over range >")
    expect(first).to_have_value(">60")
    expect(page.get_by_text("it had not operated by then")).to_be_visible()
    page.locator("[data-point]").nth(1).fill("1.2")
    expect(page.get_by_role("button", name="Record all 2")).to_be_visible()
    assert main.bounding_box() == before
    small = page.evaluate(SMALL_KEYS)
    assert [one for one in small if not one[0].startswith("Record all")] == []
    key(page, "Under range <")
    expect(page.locator("[data-point]").nth(1)).to_have_value("<1.2")
    key(page, "Under range <")
    expect(page.locator("[data-point]").nth(1)).to_have_value("1.2")
    for width in (768, 1024):
        page.set_viewport_size({"width": width, "height": 1024})
        check_layout(page)
    context.close()
