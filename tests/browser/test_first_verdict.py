"""From an empty instance to the first verdict, and how long a practised hand needs.

Crew, clearance and cell are made to stand by another tablet. On the card the lines of
its test are counted apart: a tap each is wanted there, since each stands for a look.
"""

import sys
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.schema import Person, Round
from models.services.field.accept_entries import accept_entries
from seed_demo.crew import Member
from seed_demo.safety_walk import SafetyWalk
from tests.browser.conftest import Served
from tests.browser.crew import TABLET, open_page, verdict_at
from tests.browser.give_lines import give_all
from tests.browser.hand_count import Hand
from tests.browser.test_first_start import empty
from tests.browser.test_lineup_editor import by_keys, from_a_starting_point
from tests.scenario import FOUND, PASSWORD, SECRET
from webapp.commands.serve import code_of_first_start
from webapp.config import Config

pytestmark = pytest.mark.browser
__all__ = ["empty"]

# Both are what the set-up is held to, of a practised hand; waiting is not counted.
MOST_SECONDS = 600  # all cells by hand, lines of the card's test included
MOST_PRESSES = 60  # taps and keys, lineup from a starting point, without those lines
# From the elevation to the first verdict on a card whose wider scopes stand.
MOST_TAPS = 4  # besides one for each line
MOST_LINES = 8


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
    expect(page.get_by_label("Tag", exact=True)).to_be_focused()
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


class Named(Member):
    """Somebody of the crew who has no account."""

    @property
    def json(self) -> dict[str, Any]:
        """Who says a line."""
        return {"id": None, "name": self.name}


def let_scopes_stand(served: Served) -> None:
    """Brief, isolate, enter the first cell, as on another tablet; read nothing."""
    at = datetime.now(UTC) - timedelta(minutes=10)
    ticks = count()
    with served.session() as session:
        (round_,) = session.scalars(select(Round))
        (ada,) = session.scalars(select(Person))
        first = min(round_.cards, key=lambda card: card.position)

        def send(by: UUID, acts: list[dict[str, Any]]) -> None:
            answers = accept_entries(
                session,
                person_id=by,
                round_id=round_.id,
                device="tablet 2",
                entries=acts,
                now=datetime.now(UTC),
            )
            assert {one["status"] for one in answers} == {"stored"}, answers

        crew = (
            Member(id=ada.id, name=ada.name),
            Named(id=uuid4(), name="Jon Pell"),
        )
        walk = SafetyWalk(
            session,
            round_.id,
            crew=crew,
            found=FOUND,
            send=send,
            moment=lambda: at + timedelta(milliseconds=next(ticks)),
            wait=lambda _seconds: None,
        )
        walk.open(first, crew[0], short_of=["test_open"])
        session.commit()


def to_the_elevation(page: Page) -> Hand:
    """Open the round on the tablet."""
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Field"))
    hand.tap(page.get_by_role("link", name="Work on it"))
    return hand


def to_the_card(page: Page) -> Hand:
    """Open the round's first card; what it rests on stands."""
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Open card"))
    scopes = page.get_by_label("Safety this card rests on")
    expect(scopes).to_contain_text("Clearance 4711")
    return hand


def give_lines(page: Page) -> tuple[Hand, int]:
    """Give the lines of the test; return how many there were."""
    hand = Hand(page)
    return hand, len(give_all(page, hand))


def read_first_point(page: Page) -> Hand:
    """Enter the conditions and the first reading; its verdict is seen and recorded."""
    hand = Hand(page)
    expect(page.get_by_label("Temperature of the insulation")).to_be_focused()
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
    let_scopes_stand(empty)
    parts["to the elevation"] = to_the_elevation(page)
    parts["to the card"] = to_the_card(page)
    parts["lines of the test"], lines = give_lines(page)
    parts["first reading"] = read_first_point(page)
    page.goto(site)
    laid_out = enter_lineup(page, from_a_starting_point)
    context.close()

    short = {**parts, "lineup of six cells": laid_out}
    said = "\n".join(map(part_words, short, short.values()))
    whole = sum(hand.seconds for hand in parts.values())
    asked = presses([parts["lines of the test"]])
    on_card = ("to the card", "lines of the test", "first reading")
    taps = sum(parts[name].taps for name in on_card)
    fewest = presses(short.values()) - asked
    said += f"\n{part_words('typed by hand', parts['lineup of six cells'])}"
    said += f"\nall by hand {whole:.0f} s; from a starting point {fewest} + {asked}\n"
    said += f"from the elevation {taps} taps, {lines} of them lines of the test\n"
    sys.stdout.write(said)
    assert whole <= MOST_SECONDS, said
    assert fewest <= MOST_PRESSES, said
    assert lines <= MOST_LINES, said
    assert taps <= MOST_TAPS + lines, said
