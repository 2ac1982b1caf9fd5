"""The round's safety page on a tablet: signing in, a lock off, a stop, the way back."""

import pytest
from playwright.sync_api import Browser, Locator, Page, expect
from sqlalchemy import select

from models.schema import SafetyAct
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    check_themes,
    open_page,
    sign_in,
)
from tests.scenario import CR, SECOND, TECHNICIAN
from tests.shift import Shift

pytestmark = pytest.mark.browser
PAUSE_MS = 650  # a second tap of one touch gives no second line
HIGHEST = 3000  # px; a longer page is not looked through


def shift_of(served: Served, *, at_work: bool) -> Shift:
    """Open a round by scopes; *at_work*: all its wider scopes and one card stand."""
    with served.session() as session:
        work = AtWork.now(session)
        shift = Shift(work)
        if at_work:
            shift.open()
            work.read("breaker 52", CR, "30", "31", "32")
        session.commit()
        return shift


def give(page: Page, at_most: int) -> int:
    """Give the lines in hand as they come, something noted; return how many."""
    given = 0
    while given < at_most and page.locator(".line-confirm").count():
        note(page.locator(".line-form"))
        page.wait_for_timeout(PAUSE_MS)
        page.locator(".line-confirm").click()
        given += 1
    return given


def note(form: Locator) -> None:
    """Fill what is wanted with the line in hand."""
    for field in form.locator("input:not([type=checkbox], [type=radio])").all():
        label = form.locator(f'label[for="{field.get_attribute("id")}"]').inner_text()
        if "(if any)" in label or field.input_value():
            continue
        number = field.get_attribute("inputmode") in ("decimal", "numeric")
        field.fill("2" if number else "L-7")
    for group in form.locator("fieldset").all():
        group.locator("button, input").first.click()


def stored(served: Served, act: str) -> list[SafetyAct]:
    with served.session() as session:
        rows = select(SafetyAct).where(SafetyAct.act == act).order_by(SafetyAct.seq)
        return list(session.scalars(rows))


def test_two_people_sign_in_on_one_tablet(browser: Browser, served: Served) -> None:
    shift = shift_of(served, at_work=False)
    context, page = open_page(browser, served, TABLET)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{shift.work.round_id}/#/safety")
    check_page(page)
    page.get_by_role("link", name="Take charge of this shift").click()
    page.get_by_role("button", name="Take charge of this shift").click()
    expect(page.locator("h1")).to_contain_text("lines open")
    give(page, 1)
    row = page.get_by_role("listitem").filter(has_text=TECHNICIAN.name)
    expect(row).to_contain_text("in charge")
    context.set_offline(True)
    page.get_by_label("Who signs in").fill(SECOND.name)
    page.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_text(f"{SECOND.name} speaks now")).to_be_visible()
    check_page(page)
    context.set_offline(False)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert len(stored(served, "open_crew")) == len(stored(served, "line")) == 1
    context.close()


def lock_off(page: Page) -> None:
    """What a change closes is said before it is recorded."""
    page.get_by_role("link", name="Registers and changes").click()
    page.get_by_role("button", name="Say what changed").click()
    page.get_by_label("A lock or tag came off").check()
    said = page.get_by_role("status").filter(has_text="This closes 1 open card")
    expect(said).to_contain_text("contact resistance, breaker 52")
    expect(said).to_contain_text("Cell 1 must be entered again")
    page.get_by_label("What happened, in a few words").fill("key given out")
    check_page(page)
    page.get_by_role("button", name="Record the change").click()
    expect(page.locator("h1")).to_contain_text("a lock or tag came off")
    assert give(page, 9) == 2, "the lock, and that the list was walked"
    expect(page.locator("h1")).to_contain_text("stands since")


def enter_again(page: Page, cell: Locator) -> None:
    """A cell that was left asks only for what lapsed."""
    page.get_by_role("link", name="‹ Safety of this round").click()
    expect(page.get_by_text("What lapsed and why")).to_be_visible()
    cell.click()
    page.get_by_role("button", name="Enter cell 1").click()
    expect(page.locator(".line-again").first).to_contain_text("Asked again")
    given = give(page, 15)
    expect(cell).to_contain_text("proved dead")
    of_all = page.get_by_text("lines given").inner_text()  # "12 of 12 lines given"
    assert 0 < given < int(of_all.split(" ")[0])


def stop_and_release(page: Page, cell: Locator) -> None:
    """One press stops; whoever is named in the briefing releases, with a reason."""
    page.get_by_role("button", name="Stop work").click()
    banner = page.get_by_role("group", name="Work is stopped")
    expect(banner).to_contain_text(TECHNICIAN.name)
    expect(banner).to_contain_text("it switches nothing off and calls nobody")
    page.get_by_role("button", name="Release …").click()
    page.get_by_role("button", name="Release the stop").click()
    form = page.get_by_role("form", name="Release the stop")
    expect(form).to_contain_text("Write what was put right.")
    check_page(page)
    form.get_by_label(TECHNICIAN.name).check()
    form.get_by_label("Why work may go on").fill("everybody is clear")
    form.get_by_label("What was put right").fill("the barrier stands again")
    form.get_by_label("Yes").check()
    page.get_by_role("button", name="Release the stop").click()
    expect(page.get_by_role("button", name="Stop work")).to_be_visible()
    expect(cell).to_contain_text("stopped")


def hand_back(page: Page, shift: Shift) -> None:
    """Handing back says what stands between."""
    page.goto(f"/field/rounds/{shift.work.round_id}/#/safety/return/{shift.isolation}")
    page.get_by_role("button", name="Hand back the whole").click()
    expect(page.get_by_text("Grounds by the register: 1 on, 0 off.")).to_be_visible()
    last = page.get_by_role("button", name="Hand back the clearance")
    expect(last).to_be_disabled()
    check_page(page)
    assert page.evaluate("document.documentElement.scrollHeight") <= HIGHEST


def make_safe(page: Page, shift: Shift) -> None:
    """A card read and then closed still has its lines after the test in hand."""
    card = shift.work.card("breaker 52", CR).id
    page.goto(f"/field/rounds/{shift.work.round_id}/#/cards/{card}")
    expect(page.get_by_role("heading", name="After: 0 of")).to_be_visible()
    assert give(page, 1) == 1


def test_a_lock_off_a_stop_and_the_way_back(browser: Browser, served: Served) -> None:
    shift = shift_of(served, at_work=True)
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{shift.work.round_id}/#/safety")
    cell = page.get_by_role("navigation", name="Cells of").get_by_role("link").first
    expect(cell).to_contain_text("proved dead")
    check_themes(page)
    lock_off(page)
    enter_again(page, cell)
    stop_and_release(page, cell)
    hand_back(page, shift)
    make_safe(page, shift)
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert [one.act for one in stored(served, "release")] == ["release"]
    context.close()
