"""A card that rests on the scopes: few taps, closed by a stop, made safe after."""

import re
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET_UPRIGHT,
    AtWork,
    check_faults,
    check_sizes,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.browser.give_lines import give_all, give_line, set_time_aside
from tests.browser.hand_count import Hand
from tests.scenario import CR, IR, RT, TECHNICIAN, WITHIN
from tests.shift import Shift, open_lines

pytestmark = pytest.mark.browser

LEAST_IN_GLOVES = 60  # px, of what is pressed to give a line
LEAST_TEXT = 22  # px, of a line that is read at arm's length
MOST_LINES = 8  # before the first reading
MOST_TAPS = 4  # from the elevation to the first verdict, besides one for each line
GLOVES = """() => [...document.querySelectorAll(
    '.line-in-hand button:not(.suggestion), .line-in-hand input:not([type=checkbox]),'
    + ' .line-in-hand select, .line-in-hand .choice, .discharge button')]
  .filter((one) => one.offsetParent).map((one) => one.offsetHeight)"""

TEXT_SIZE = """() => parseFloat(
    getComputedStyle(document.querySelector('.line-text')).fontSize)"""


def standing_shift(served: Served) -> tuple[Shift, str]:
    """Let crew, clearance and cell stand by now; return them and the bus card."""
    with served.session() as session:
        work = AtWork.now(session)
        shift = Shift(work)
        shift.open()
        lists = shift.standing.book["cards"][str(work.card("bus", IR).id)]["lists"]
        assert [*lists] == [""]
        session.commit()
        return shift, str(work.card("bus", IR).id)


def open_card(hand: Hand, page: Page, card_id: str) -> None:
    """Go from the elevation to a card whose wider scopes stand."""
    hand.tap(page.get_by_role("link", name="Cell 1, Incomer"))
    hand.tap(page.locator(f"a[href='#/cards/{card_id}']").first)
    scopes = page.get_by_label("Safety this card rests on")
    for words in ("in charge", "Clearance 4711", "Cell 1 dead"):
        expect(scopes).to_contain_text(words)


def give_in_gloves(hand: Hand, page: Page) -> list[str]:
    """Give every line of the test, each large enough for gloves; return their codes."""
    page.evaluate("document.documentElement.dataset.theme = 'dark'")
    check_sizes(page)
    assert page.evaluate(TEXT_SIZE) >= LEAST_TEXT
    given = []
    while page.get_by_label("In hand: ").count():
        assert min(page.evaluate(GLOVES)) >= LEAST_IN_GLOVES
        given.append(give_line(hand, page))
    return given


def recorded(page: Page) -> None:
    expect(page.locator("#signal")).to_contain_text("Everything is recorded")


def stop_elsewhere(served: Served, shift: Shift) -> None:
    """Stop the work on another tablet."""
    with served.session() as session:
        shift.work.session, shift.work.at = session, datetime.now(UTC)
        shift.store(shift.act("stop", stop=str(uuid4())))
        session.commit()


def test_few_taps_to_the_first_verdict_and_safe_after_a_stop(
    browser: Browser, served: Served
) -> None:
    shift, card_id = standing_shift(served)
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{shift.work.round_id}/")
    hand = Hand(page)
    open_card(hand, page, card_id)
    asked = page.get_by_label("Before the first reading").locator("li").count()
    given = give_in_gloves(hand, page)
    assert len(given) == asked <= MOST_LINES
    page.get_by_label("Temperature of the insulation").fill("20")
    record(page, "A-G", "8.4")
    verdict_at(page, "A-G", "within")
    assert hand.taps <= MOST_TAPS + asked
    recorded(page)

    # A stop elsewhere closes it; what was typed stays, what makes safe can be given.
    page.get_by_label("Reading at B-G").fill("7.7")
    stop_elsewhere(served, shift)
    expect(page.get_by_text("Closed for entry by the stop of")).to_be_visible()
    expect(page.get_by_role("group", name="Point B-G")).to_contain_text("7.7")
    expect(page.get_by_label("Reading at B-G")).to_have_count(0)
    check_faults(page)
    expect(page.get_by_role("heading", name="After: 0 of 3")).to_be_visible()
    assert [give_line(hand, page), give_line(hand, page)] == ["P01a", "G14a"]
    page.get_by_role("button", name="The dc is off").click()
    expect(page.get_by_role("button", name="Confirm P03a")).to_be_disabled()
    page.reload()  # the timer goes on
    expect(page.get_by_role("timer")).to_contain_text(":")
    page.get_by_role("link", name="‹ Elevation").click()  # and where the card is left
    running = page.get_by_role("region", name="Timers that run").get_by_role("link")
    expect(running).to_contain_text(re.compile(r"Discharge · bus · .*left"))
    running.click()
    expect(page.get_by_role("timer")).to_contain_text(":")
    set_time_aside(page)
    expect(page.get_by_role("heading", name="After: 3 of 3")).to_be_visible()
    recorded(page)
    with served.session() as session:
        shift.work.session, shift.work.at = session, datetime.now(UTC)
        assert not open_lines(shift.card_standing("bus", IR)["after"])
    context.close()


def test_a_card_of_an_earlier_round_goes_on_by_its_scopes(
    browser: Browser, served: Served
) -> None:
    """What was confirmed by the earlier list is read, and asked no more."""
    breaker, relay = ("breaker 52", CR), ("relay 51", RT)
    with served.session() as session:
        work = AtWork.now(session, earlier_list=True)
        for card in (breaker, relay):
            work.confirm_earlier(*card)
        relay_card = work.card(*relay)
        for point, text in zip(relay_card.points, WITHIN[RT], strict=True):
            work.tick()
            work.store(work.reading(relay_card, point, text))
        work.confirm_earlier(*relay, after=True)
        Shift(work).open()
        session.commit()
        cards = {card: work.card(*card).id for card in (breaker, relay)}
        round_id = work.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{cards[breaker]}")
    earlier = page.get_by_label("Confirmed under the earlier list")
    earlier.get_by_role("button", name="Read it").click()
    expect(earlier).to_contain_text("G01")
    expect(earlier.get_by_role("button", name="Confirm")).to_have_count(0)
    assert give_all(page)
    page.get_by_label("Temperature of the conductor").fill("20")
    record(page, "pole A", "40.1")
    verdict_at(page, "pole A", "within")
    recorded(page)

    # Where all of that list was answered, nothing but the signature is missing.
    page.goto(f"/field/rounds/{round_id}/#/cards/{cards[relay]}")
    expect(page.get_by_label(f"Password of {TECHNICIAN.name}")).to_be_visible()
    check_faults(page)
    context.close()
