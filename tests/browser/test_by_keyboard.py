"""A card by the keyboard alone; a dialog keeps the focus and gives it back."""

import pytest
from playwright.sync_api import Browser, FileChooser, Locator, Page, expect

from tests.browser.conftest import Served
from tests.browser.crew import TABLET, open_page, verdict_at
from tests.browser.test_field import open_card
from tests.browser.test_photographs import camera_picture
from tests.scenario import IR

pytestmark = pytest.mark.browser
MOST_TABS = 90  # from the head of a card to its end
HAS_FOCUS = "(element) => element === document.activeElement"
# WCAG 2.2, 2.4.11: what has the focus is not hidden, by the bar at the bottom either.
IS_SEEN = """(element) => {
    const box = (element.closest('label') ?? element).getBoundingClientRect()
    const at = [box.left + box.width / 2, box.top + box.height / 2]
    const there = document.elementFromPoint(...at)
    return Boolean(there) && (element.contains(there) || there.contains(element))
}"""
# In the dialog; or on the page itself, where the browser's own bar has the focus.
IN_DIALOG = "document.activeElement.closest('dialog, body').localName"


def tab_to(page: Page, target: Locator) -> None:
    """Press the Tab key until the focus is there, and is to be seen."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if target.evaluate(HAS_FOCUS):
            assert target.evaluate(IS_SEEN), f"{target} is hidden"
            return
    raise AssertionError(f"{target} is not reached")


def button(page: Page, name: str) -> Locator:
    return page.get_by_role("button", name=name).first


def test_a_card_by_the_keyboard_alone(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    # Asked for from the start: a key may reach the page before the browser has heard
    # that a chooser is to be told of, and then nobody is told.
    choosers: list[FileChooser] = []
    page.on("filechooser", lambda one: choosers.append(one))
    open_card(page, served, "breaker 52", IR)
    tab_to(page, page.get_by_label("Temperature of the insulation"))
    page.keyboard.type("20")
    tab_to(page, page.get_by_label("Instrument"))
    page.keyboard.type("IR-1")
    expect(page.locator("#condition-instrument option:checked")).to_contain_text("IR-1")
    tab_to(page, page.get_by_label("Reading at A-G", exact=True))
    page.keyboard.type("2.1")
    page.keyboard.press("Enter")
    verdict_at(page, "A-G", "outside")
    expect(page.get_by_label("Reading at B-G", exact=True)).to_be_focused()
    photograph(page, choosers)
    deficiency(page)
    stop(page)
    context.close()


def photograph(page: Page, choosers: list[FileChooser]) -> None:
    """The dialog holds the focus; closed, the photograph's own button has it."""
    tab_to(page, page.get_by_label("Choose a picture"))
    with page.expect_event("filechooser"):
        page.keyboard.press("Enter")
    (chosen,) = choosers
    picture = {"name": "IMG_1.JPG", "mimeType": "image/jpeg"}
    chosen.set_files({**picture, "buffer": camera_picture()})
    expect(page.get_by_role("dialog")).to_be_visible()
    places = set()
    for _ in range(15):
        page.keyboard.press("Tab")
        places.add(page.evaluate(IN_DIALOG))
        outside = page.evaluate("!document.activeElement.closest('dialog')")
        assert not outside or page.evaluate("document.activeElement === document.body")
    assert "dialog" in places
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(button(page, "Finish it")).to_be_focused()
    tab_to(page, button(page, "Remove"))
    page.keyboard.press("Enter")
    expect(button(page, "Keep it")).to_be_focused()


def deficiency(page: Page) -> None:
    """What opens takes the focus."""
    page.locator("#card-title").focus()
    tab_to(page, button(page, "Raise deficiency"))
    page.keyboard.press("Space")
    inside = page.evaluate("Boolean(document.activeElement.closest('.inline-form'))")
    assert inside


def stop(page: Page) -> None:
    """Work is stopped, and the way to release it is at hand."""
    page.locator("a.skip").focus()
    tab_to(page, button(page, "Stop work"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("group", name="Work is stopped")).to_be_visible()
    release = button(page, "Release …")
    page.locator("a.skip").focus()
    tab_to(page, release)
