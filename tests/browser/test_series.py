"""Rows of readings: entered without signal, seen at once, sent, seen at the desk."""

import re
from datetime import UTC, datetime
from uuid import UUID

import pytest
from playwright.sync_api import Browser, Page, expect

from models.judging.series import absorption_ratio, parse_series, polarization_index
from models.schema import Reading
from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
    OPEN,
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    open_page,
    sign_in,
)
from tests.scenario import CONDITIONS, DW, IR, LEAD, TECHNICIAN, Work
from webapp.words.read_rows import ratio_words

pytestmark = pytest.mark.browser

# What an insulation tester showed after so many seconds, in GΩ. Made up.
OVER_TIME = {15: "1.92", 30: "2.61", 60: "5.40", 600: "8.31"}


def open_card(page: Page, served: Served, label: str, procedure: str) -> UUID:
    """Open a card on which everything stands already; return its id."""
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm(label, procedure)
        if procedure == DW:  # dc asks lines of its own
            work.confirm(label, procedure, conditions=CONDITIONS[DW] | {"supply": "dc"})
        session.commit()
        card_id, round_id = work.card(label, procedure).id, work.round_id
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    expect(page.get_by_text(OPEN)).to_be_visible()
    return card_id


def ready(page: Page) -> None:
    page.get_by_label("Temperature of the insulation").fill("20")
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")


def after(page: Page, said: str, text: str) -> None:
    page.get_by_label(f"Reading after {said} at A-G", exact=True).fill(text)


def conditions(served: Served) -> list[dict[str, object]]:
    """Return the conditions of the readings that the database holds, in order."""
    with served.session() as session:
        rows = session.query(Reading).order_by(Reading.taken_at).all()
        return [row.conditions for row in rows]


def test_readings_over_time_without_signal_and_at_the_desk(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    context.set_offline(True)
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Readings over time").click()
    bench = page.get_by_role("region", name="Readings over time at A-G")
    after(page, "15 s", OVER_TIME[15])
    after(page, "30 s", OVER_TIME[30])
    after(page, "1 min", OVER_TIME[60])
    # The reading is that after one minute.
    expect(page.get_by_label("Reading at A-G", exact=True)).to_have_value("5.40")
    bench.get_by_role("button", name="Go on to ten minutes").click()
    after(page, "10 min", OVER_TIME[600])
    steps = parse_series("timed", " ".join(f"{s}:{v}" for s, v in OVER_TIME.items()))
    ratios = [absorption_ratio(steps), polarization_index(steps)]
    shown = bench.locator(".quotients dd")
    expect(shown).to_have_text([ratio_words(ratio) for ratio in ratios if ratio])
    expect(shown).to_have_text(["2.07", "1.54"])  # 5.40 / 2.61 and 8.31 / 5.40
    expect(bench.locator("svg.series-curve circle")).to_have_count(4)
    expect(bench).to_contain_text("Information only, no verdict")
    check_page(page)
    page.get_by_role("button", name="Record A-G").click()
    expect(row.locator("summary")).to_contain_text("polarization index 1.54")
    signal = page.locator("#signal")
    expect(signal).to_have_text("No signal · 1 entry kept on this tablet")
    context.set_offline(False)
    expect(signal).to_have_text("Everything is recorded")
    assert conditions(served)[0]["timed"] == "15:1.92 30:2.61 60:5.40 600:8.31"
    row.locator("summary").click()
    check_page(page)
    context.close()

    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    page.goto(f"/turnover/cards/{card_id}")
    section = page.get_by_role("region", name="Readings over time at A-G")
    expect(section.locator(".quotients dd")).to_have_text(["2.07", "1.54"])
    expect(section.locator(".steps-read dd")).to_have_text(
        [f"{value} GΩ" for value in OVER_TIME.values()]
    )
    expect(section.locator("svg circle")).to_have_count(4)
    check_page(page)
    context.close()


def test_what_is_typed_in_a_row_is_kept_and_its_faults_stand_beside_it(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET)
    open_card(page, served, "breaker 52", IR)
    ready(page)
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Step voltage").click()
    bench = page.get_by_role("region", name="Step voltage at A-G")
    value = page.get_by_label("Resistance at step 2 at A-G")
    value.fill("5,2")
    expect(bench.locator(".fault:visible")).to_contain_text("write the decimal point")
    page.get_by_label("Reading at A-G", exact=True).fill("5.1")
    page.get_by_role("button", name="Record A-G").click()
    expect(row.locator(".point-fault")).to_contain_text("Look at the step voltage")
    check_page(page)
    page.reload()
    expect(value).to_have_value("5,2")
    value.fill("5.2")
    page.get_by_label("Resistance at step 4 at A-G").fill(">5.1")
    expect(bench.locator(".quotients dd")).to_have_text(["at least 0.981"])
    page.get_by_role("button", name="Record A-G").click()
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert conditions(served)[0]["steps"] == "1:5.2 5:>5.1"
    context.close()


def test_the_minute_and_the_reading_are_one(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    open_card(page, served, "breaker 52", IR)
    ready(page)
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Readings over time").click()
    after(page, "1 min", "5.40")
    page.get_by_label("Reading at A-G", exact=True).fill("5.5")
    page.get_by_role("button", name="Record A-G").click()
    expect(row.locator(".point-fault")).to_contain_text("they are one reading")
    assert conditions(served) == []
    context.close()


def test_the_clock_says_when_to_read(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET)
    page.clock.install(time=datetime.now(UTC))
    open_card(page, served, "breaker 52", IR)
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Readings over time").click()
    bench = page.get_by_role("region", name="Readings over time at A-G")
    bench.get_by_role("button", name="Start the clock").click()
    page.clock.run_for(16_000)
    expect(bench.locator(".clock-call")).to_have_text("Read now: 15 s")
    expect(bench.locator(".cell-due input")).to_have_attribute(
        "aria-label", "Reading after 15 s at A-G"
    )
    after(page, "15 s", "1.9")
    page.clock.run_for(1_000)
    expect(bench.locator(".clock-call")).to_have_text("Next at 30 s")
    page.reload()  # the clock of the page that is opened again goes on
    expect(bench.locator(".clock-time")).to_have_text(re.compile("0:(1[7-9]|2)"))
    page.clock.run_for(100_000)  # nothing typed meanwhile: two minutes come next
    expect(bench.locator(".cell-due input")).to_have_attribute(
        "aria-label", "Reading after 2 min at A-G"
    )
    context.close()


def test_leakage_goes_with_a_dc_withstand(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    open_card(page, served, "bus", DW)
    row = page.get_by_role("group", name="Point phase A", exact=True)
    page.get_by_label("Supply").select_option("ac")
    opener = row.get_by_role("button", name="Leakage current over the steps")
    expect(opener).to_have_count(0)
    page.get_by_label("Supply").select_option("dc")
    opener.click()
    for n, (kv, current) in enumerate((("10", "3.1"), ("20", "6.2"), ("27", "15"))):
        page.get_by_label(f"Voltage, dc of step {n + 1} at phase A").fill(kv)
        page.get_by_label(f"Leakage current at step {n + 1} at phase A").fill(current)
    bench = page.get_by_role("region", name="Leakage current over the steps at phase A")
    expect(bench.locator(".quotients dd")).to_have_text(["2.70", "4.84"])
    check_page(page)
    page.get_by_label("Held for").fill("60")
    page.get_by_label("Instrument").select_option(label="HV-1 · test set HV-1")
    row.get_by_role("button", name="Held").click()
    page.get_by_role("button", name="Record phase A").click()
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert conditions(served)[0]["leakage"] == "10:3.1 20:6.2 27:15"
    context.close()


def test_a_later_round_draws_the_baseline_beside_it(
    browser: Browser, served: Served
) -> None:
    rows = {"timed": "30:5.00 60:6.00 600:7.50"}
    warm = {"temperature_c": 20, "humidity_pct": 50, "test_kv": 2.5}
    with served.session() as session:
        work = Work.begin(session)
        for label, procedure in work.cards:
            if (label, procedure) != ("bus", IR):
                work.withdraw(label, procedure)
        work.confirm("bus", IR)
        work.read("bus", IR, "6.00", conditions=warm | rows)
        work.fill("bus", IR, "9.5", "9.2", "41", "44", "39", conditions=warm)
        work.turn_over()
        later = AtWork.now(session, "maintenance")
        later.confirm("bus", IR)
        session.commit()
        card_id, round_id = later.card("bus", IR).id, later.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card_id}")
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Readings over time").click()
    after(page, "30 s", "4.0")
    after(page, "1 min", "6.0")
    bench = page.get_by_role("region", name="Readings over time at A-G")
    expect(bench.locator(".quotients")).to_contain_text("baseline 1.20")
    expect(bench.locator("polyline.d-series-2")).to_have_count(1)
    # In another unit the two curves would not lie on one scale.
    page.get_by_label("Unit at A-G").select_option("MOhm")
    expect(bench.locator("polyline.d-series-2")).to_have_count(0)
    check_page(page)
    context.close()
