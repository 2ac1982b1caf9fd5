"""From an empty instance to the first verdict, and how long a practised hand needs.

The preconditions of a card are confirmed one by one, so they are counted apart: a tap
each is wanted there, since each stands for a look.
"""

import sys
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Served
from tests.browser.crew import TABLET, open_page, verdict_at
from tests.browser.hand_count import Hand
from tests.browser.test_first_start import empty
from tests.browser.test_lineup_editor import by_keys, from_a_starting_point
from tests.scenario import PASSWORD, SECRET
from webapp.commands.serve import code_of_first_start
from webapp.config import Config

pytestmark = pytest.mark.browser
__all__ = ["empty"]

# Both are what the set-up is held to, of a practised hand; waiting is not counted.
MOST_SECONDS = 600  # all cells by hand, preconditions of the card included
MOST_PRESSES = 60  # taps and keys, lineup from a starting point, without preconditions


def type_into(hand: Hand, texts: tuple[str, ...]) -> None:
    """Type texts into fields that follow each other, the first one focused."""
    for text in texts[:-1]:
        hand.write(text)
        hand.key("Tab")
    hand.write(texts[-1])


def set_up(page: Page, code: str) -> Hand:
    """Do the three steps: organisation, administrator, fingerprint."""
    hand = Hand(page)
    page.goto("/")
    expect(page.get_by_label("Code")).to_be_focused()
    type_into(hand, (code, "Fathom Line Testing"))
    hand.key("Enter")
    expect(page.get_by_label("Your name")).to_be_focused()
    type_into(hand, ("Ada Wren", "wren", PASSWORD, PASSWORD))
    hand.tap(page.get_by_label("I am also a commissioning lead"))
    hand.tap(page.get_by_label("I am also a test technician"))
    hand.key("Enter")
    hand.tap(page.get_by_label("I have written it down"))
    hand.key("Enter")
    expect(page.get_by_text("you are signed in")).to_be_visible()
    return hand


def add_site(page: Page) -> Hand:
    """Add a site with its owner, on one form."""
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Enter an owner and a site"))
    expect(page.get_by_label("Name of the new owner")).to_be_focused()
    hand.write("Tern Island Works")
    hand.tap(page.get_by_label("Name of the site"))
    hand.write("Tern Island")
    hand.key("Enter")
    expect(page.get_by_text("The site is added")).to_be_visible()
    return hand


def enter_lineup(page: Page, typed: Callable[[Page], Hand]) -> Hand:
    """Enter a lineup of the site that is open, as *typed* does it."""
    page.get_by_role("link", name="Enter a lineup").click()
    hand = typed(page)
    hand.taps += 1
    return hand


def add_instrument(page: Page) -> Hand:
    """Add a tester with a range and its accuracy, and its calibration."""
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Instruments"))
    hand.tap(page.get_by_role("link", name="Add an instrument"))
    expect(page.get_by_label("Tag")).to_be_focused()
    type_into(hand, ("IR-1", "5 kV tester", "70113"))
    hand.tap(page.get_by_label("Insulation resistance"))
    ranged = page.get_by_role("group", name="Range 1")
    hand.tap(ranged.get_by_label("From"))
    type_into(hand, ("0", "100", "GOhm", "5"))
    hand.key("Enter")
    hand.tap(page.get_by_label("Certificate number"))
    type_into(hand, ("C-1", "Plinth Calibration"))
    today = datetime.now(UTC).date()
    for label, days in (("Calibrated on", -30), ("Falls due on", 300)):
        hand.tab_to(page.get_by_label(label))
        hand.write((today + timedelta(days=days)).strftime("%m%d%Y"))
    hand.key("Enter")
    expect(page.get_by_text("calibrated to")).to_be_visible()
    return hand


def open_round(page: Page) -> Hand:
    """Plan a round and open it."""
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Rounds"))
    hand.tap(page.get_by_label("acceptance", exact=True))
    hand.choose(page.get_by_label("Programme"), label="Acceptance, draw-out breakers")
    hand.tap(page.get_by_role("button", name="Plan the round"))
    hand.tap(page.get_by_role("button", name="Open the round"))
    expect(page.get_by_text("The round is open")).to_be_visible()
    return hand


def to_the_card(page: Page) -> Hand:
    """Open the round's first card on the tablet."""
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Field"))
    hand.tap(page.get_by_role("link", name="Work on it"))
    hand.tap(page.get_by_role("link", name="Open card"))
    return hand


def confirm_preconditions(page: Page) -> Hand:
    """Confirm them one after the other, as they are asked today."""
    hand = Hand(page)
    asked = page.get_by_label("Preconditions")
    confirm = asked.get_by_role("button", name="Confirm", exact=True)
    expect(confirm.first).to_be_visible()
    while confirm.count():
        hand.tap(confirm.first)
    return hand


def read_first_point(page: Page) -> Hand:
    """Enter the conditions and the first reading; its verdict is seen and recorded."""
    hand = Hand(page)
    hand.tap(page.get_by_label("Temperature of the insulation"))
    hand.write("20")
    hand.tap(page.get_by_label("Reading at A-G"))
    hand.write("12.4")
    verdict_at(page, "A-G", "within")
    hand.key("Enter")
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    return hand


def presses(hands: Iterable[Hand]) -> int:
    """Count taps and keys."""
    return sum(hand.taps + hand.keys for hand in hands)


def part_words(name: str, hand: Hand) -> str:
    """Say what a part took."""
    return (
        f"{name}: {hand.taps} taps, {hand.keys} keys, {hand.characters} characters, "
        f"{hand.seconds:.0f} s"
    )


def test_the_first_verdict_within_ten_minutes_of_a_hand(
    browser: Browser, empty: Served
) -> None:
    code = code_of_first_start(Config(database=empty.database, secret=SECRET))
    context, page = open_page(browser, empty, TABLET)
    parts = {"set-up": set_up(page, code), "owner and site": add_site(page)}
    site = page.url
    parts["lineup of six cells"] = enter_lineup(page, by_keys)
    parts["instrument"] = add_instrument(page)
    parts["round"] = open_round(page)
    parts["to the card"] = to_the_card(page)
    parts["preconditions"] = confirm_preconditions(page)
    parts["first reading"] = read_first_point(page)
    page.goto(site)
    laid_out = enter_lineup(page, from_a_starting_point)
    context.close()

    short = {**parts, "lineup of six cells": laid_out}
    said = "\n".join(map(part_words, short, short.values()))
    whole = sum(hand.seconds for hand in parts.values())
    asked = presses([parts["preconditions"]])
    fewest = presses(short.values()) - asked
    said += f"\n{part_words('typed by hand', parts['lineup of six cells'])}"
    said += f"\nall by hand {whole:.0f} s; from a starting point {fewest} + {asked}\n"
    sys.stdout.write(said)
    assert whole <= MOST_SECONDS, said
    assert fewest <= MOST_PRESSES, said
