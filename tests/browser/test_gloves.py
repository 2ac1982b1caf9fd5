"""The card for gloves and dark rooms: keys, neighbours, what carries over, timers."""

import pytest
from playwright.sync_api import Browser, Page, expect

from models.schema import Reading
from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET_UPRIGHT,
    AtWork,
    check_themes,
    open_page,
    sign_in,
)
from tests.scenario import IR, TECHNICIAN

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
