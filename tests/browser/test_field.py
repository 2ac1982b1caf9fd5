"""The tablet in hard times: no signal, a lost answer, a wrong tap, a slip in typing."""

from uuid import UUID

import pytest
from playwright.sync_api import Browser, Page, Route, expect
from sqlalchemy import func, select

from models.schema import Reading
from tests.browser.conftest import Served
from tests.browser.crew import (
    OPEN,
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    check_themes,
    hold_program,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.scenario import CR, IR, RT, TECHNICIAN, VI, Work

pytestmark = pytest.mark.browser


def open_card(page: Page, served: Served, label: str, procedure: str) -> UUID:
    """Open a card on which everything stands already; return its id."""
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm(label, procedure)
        session.commit()
        card_id = work.card(label, procedure).id
        round_id = work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.get_by_text(OPEN)).to_be_visible()
    return card_id


def stored(served: Served, card_id: UUID) -> int:
    """Count the readings that the database holds for the card."""
    with served.session() as session:
        count = select(func.count()).where(Reading.card_id == card_id)
        return session.scalars(count).one()


def ready(page: Page) -> None:
    page.get_by_label("Temperature of the insulation").fill("20")
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")


def test_without_signal_readings_are_kept_and_sent_once_there_is_some(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    context.set_offline(True)
    record(page, "A-G", "8.4")
    record(page, "B-G", "2.1")
    verdict_at(page, "A-G", "within")
    verdict_at(page, "B-G", "outside")
    signal = page.locator("#signal")
    expect(signal).to_contain_text("No signal · 2 entries kept on this tablet, the")
    check_page(page)
    assert stored(served, card_id) == 0
    context.set_offline(False)
    expect(signal).to_have_text("Everything is recorded")
    assert stored(served, card_id) == 2
    verdict_at(page, "B-G", "outside")
    context.close()


@pytest.mark.parametrize("name", ["Gear books", "Criteria"])
def test_without_signal_a_way_out_says_so_and_leaves_the_page_open(
    browser: Browser, served: Served, name: str
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    context.set_offline(True)
    record(page, "A-G", "8.4")
    here = page.url
    link = page.get_by_role("navigation").get_by_role("link", name=name)
    link.click()
    said = page.get_by_role("alert").filter(has_text=f"No signal: {name} needs")
    expect(said).to_contain_text("1 entry is kept on this tablet")
    assert page.url == here
    verdict_at(page, "A-G", "within")
    check_page(page)
    context.set_offline(False)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    expect(said).to_have_count(0)
    assert stored(served, card_id) == 1
    link.click()
    expect(page.locator("h1")).not_to_contain_text("breaker 52")
    assert page.url != here
    context.close()


def test_without_signal_nobody_is_half_signed_out(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    open_card(page, served, "breaker 52", IR)
    hold_program(page)
    context.set_offline(True)
    page.get_by_text(TECHNICIAN.name).first.click()
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Open this tablet")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="Open this tablet")).to_be_visible()
    context.set_offline(False)
    page.reload()
    expect(page.get_by_label("Sign-in name")).to_be_visible()
    context.close()


def test_a_lost_answer_does_not_store_twice(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    lost: list[str] = []

    def lose(route: Route) -> None:
        """Let the entry arrive and the answer get lost, once."""
        if lost:
            route.continue_()
            return
        lost.append(route.request.url)
        route.fetch()
        route.abort()

    context.route("**/entries", lose)
    record(page, "A-G", "8.4")
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert len(lost) == 1
    assert stored(served, card_id) == 1
    context.close()


def test_what_was_typed_outlives_the_page(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    page.get_by_label("Reading at A-G").fill("8.41")
    page.get_by_label("Note for the record").fill("rain on the roof")
    page.get_by_role("link", name="‹ Elevation").click()
    page.reload()
    page.go_back()
    expect(page.get_by_label("Reading at A-G")).to_have_value("8.41")
    expect(page.get_by_label("Note for the record")).to_have_value("rain on the roof")
    expect(page.get_by_label("Temperature of the insulation")).to_have_value("20")
    assert stored(served, card_id) == 0
    context.close()


SLIPS = {
    "a word": ("eight", "is not a number"),
    "a decimal comma": ("8,4", "has a comma"),
    "below zero": ("-8.4", "cannot be negative"),
    "two numbers": ("8.4 9", "separator"),
    "out of all proportion": ("8e99", "out of all proportion"),
}


def test_a_slip_says_what_is_wrong_and_stays_as_typed(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    field = page.get_by_label("Reading at A-G")
    for text, said in SLIPS.values():
        field.fill(text)
        field.press("Enter")
        row = page.get_by_role("group", name="Point A-G", exact=True)
        expect(row.locator(".point-fault")).to_contain_text(said)
        expect(field).to_have_value(text)
    check_page(page)
    assert stored(served, card_id) == 0
    context.close()


def test_without_an_instrument_nothing_is_recorded(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    card_id = open_card(page, served, "breaker 52", IR)
    page.get_by_label("Temperature of the insulation").fill("20")
    record(page, "A-G", "8.4")
    about = page.get_by_text("Choose the instrument from the register.")
    expect(about).to_be_visible()
    expect(page.get_by_label("Reading at A-G")).to_have_value("8.4")
    assert stored(served, card_id) == 0
    page.get_by_label("Instrument").select_option(
        label="IR-DUE · test set IR-DUE · out of calibration"
    )
    expect(page.get_by_text("was due on 2 Mar 2026")).to_be_visible()
    record(page, "A-G", "8.4")
    verdict_at(page, "A-G", "unjudged")
    row = page.get_by_role("group", name="Point A-G", exact=True)
    expect(row).to_contain_text("not in calibration on the day")
    context.close()


def test_over_range_is_a_bound_and_no_number(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    open_card(page, served, "breaker 52", IR)
    ready(page)
    page.get_by_label("Reading at A-G").fill("200")
    page.get_by_role("button", name="Over range >").click()
    expect(page.get_by_label("Reading at A-G")).to_have_value(">200")
    page.get_by_label("Reading at A-G").press("Enter")
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Why").click()
    expect(row).to_contain_text("at least 200 GΩ, and no more is known")
    context.close()


NEXT_TO_NOTHING = "5e-324"  # the smallest number there is
DRAWN = """() => [...document.querySelectorAll("svg")].filter((one) =>
    /NaN|Infinity/.test(one.outerHTML)).map((one) => one.outerHTML.slice(0, 200))"""


@pytest.mark.parametrize(
    ("label", "procedure", "point", "instrument"),
    [("breaker 52", IR, "A-G", "IR-1"), ("relay 51", RT, "2 × pickup", "RT-1")],
    ids=["insulation", "a relay's time"],
)
def test_the_smallest_number_stops_no_page(
    browser: Browser,
    served: Served,
    label: str,
    procedure: str,
    point: str,
    instrument: str,
) -> None:
    context, page = open_page(browser, served, TABLET)
    card_id = open_card(page, served, label, procedure)
    if procedure == IR:
        page.get_by_label("Temperature of the insulation").fill("20")
    about = f"{instrument} · test set {instrument}"
    page.get_by_label("Instrument").select_option(label=about)
    record(page, point, NEXT_TO_NOTHING)
    verdict_at(page, point, "outside")
    assert page.evaluate(DRAWN) == []
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert stored(served, card_id) == 1
    page.reload()
    verdict_at(page, point, "outside")
    context.close()


def test_every_kind_of_card_can_be_read_by_all(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    with served.session() as session:
        work = AtWork.now(session)
        work.fill("relay 51", RT)
        session.commit()
        cards = {key: card.id for key, card in work.cards.items()}
        round_id = work.round_id
    sign_in(page, TECHNICIAN)
    for (label, procedure), card_id in cards.items():
        if procedure in (CR, VI):  # one card is open at a time
            with served.session() as session:
                AtWork.resume(session).confirm(label, procedure)
                session.commit()
        page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
        expect(page.locator("h1")).to_contain_text(label)
        if procedure in (CR, VI):
            expect(page.get_by_text(OPEN)).to_be_visible()
        if (label, procedure) == ("breaker 52", CR):
            page.get_by_label("Reading at pole A").fill("40.1")
            page.get_by_label("Reading at pole B").fill("71")
        elif (label, procedure) == ("breaker 52", VI):
            page.get_by_role("button", name="Broke down").first.click()
        elif procedure == RT:
            expect(page.locator("svg.curve")).to_be_visible()
        check_themes(page)
    context.close()


def test_what_others_recorded_shows_on_the_elevation(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    open_card(page, served, "breaker 52", IR)
    with served.session() as session:
        Work.resume(session).fill("breaker 52", CR)
        session.commit()
    page.get_by_role("link", name="‹ Elevation").click()
    expect(page.get_by_text("1 of 7 cards signed")).to_be_visible()
    context.close()


def test_a_tap_is_not_lost_to_what_others_record(
    browser: Browser, served: Served
) -> None:
    """What is new is drawn while the finger is on a link: the link is still there."""
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    open_card(page, served, "breaker 52", IR)
    held: list[Route] = []
    page.route("**/news.json*", lambda route: held.append(route))
    with served.session() as session:
        Work.resume(session).fill("breaker 52", CR)
        session.commit()
    while not held:
        page.wait_for_timeout(50)
    page.get_by_role("link", name="‹ Elevation").hover()
    page.mouse.down()
    with page.expect_response("**/news.json*"):
        held.pop(0).continue_()
    page.wait_for_timeout(100)
    page.mouse.up()
    expect(page.get_by_text("1 of 7 cards signed")).to_be_visible()
    context.close()
