"""A time from a waveform record, from the card on the tablet to its reading there."""

import re
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from models.services.setup import assets
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    check_themes,
    open_page,
    sign_in,
)
from tests.browser.test_gloves import middle, swipe
from tests.scenario import RT, TECHNICIAN, Work, fixed_id
from tests.waveform_records import Made, pair

pytestmark = pytest.mark.browser

# Two shots: the first is over at 0.4 s; twice the pickup of 480 A, on 800/5.
SHOTS = Made(
    rates=((1200.0, 15.0),),
    trip=(0.3, 0.4, 14.2253),
    amperes=960 * 5 / 800,
    kind="BINARY",
)


def test_a_time_goes_from_a_record_to_the_card(
    browser: Browser, served: Served
) -> None:
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm("relay 51", RT)
        assets.add_calibration(
            session,
            calibration_id=fixed_id("calibrated today"),
            instrument_id=fixed_id("RT-1"),
            calibrated_on=work.at.date() - timedelta(days=9),
            due_on=work.at.date() + timedelta(days=99),
            certificate_no="N-1",
            laboratory="Plinth Calibration",
        )
        session.commit()
        card, round_id = work.card("relay 51", RT), work.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card.id}")
    way = page.get_by_role("link", name="Times from a record")
    expect(way).to_be_visible()
    context.set_offline(True)
    expect(way).to_be_hidden()
    context.set_offline(False)
    way.click()
    files: list[Any] = [
        {"name": one.name, "mimeType": "application/octet-stream", "buffer": one.data}
        for one in pair(SHOTS)
    ]
    files_field = page.get_by_label("Files of the record")
    expect(files_field).to_be_visible()
    check_page(page)
    files_field.set_input_files(files)
    page.get_by_role("button", name="Read it").click()
    expect(page.get_by_text("operates 2 times")).to_be_visible()
    page.get_by_label("Point").select_option(label=card.points[1].label)
    page.get_by_label("On the base of").select_option("P")
    page.get_by_label("Start", exact=True).select_option("trigger")
    look_from(page, 1000)
    expect(page.locator(".measured")).to_contain_text("14.02")
    check_themes(page)
    page.set_viewport_size({"width": 768, "height": 1024})
    move_along(page)
    page.get_by_role("link", name="IA, peak").click()
    expect(page.locator("#start-fault")).to_contain_text("does not change")
    page.get_by_label("Look from (ms)").fill("0")
    page.get_by_label("Start", exact=True).select_option("channel:1")
    page.get_by_role("button", name="Measure").click()
    expect(page.locator(".measured")).to_contain_text(re.compile(r"0\.(099|100)"))
    page.get_by_label("Look from (ms)").fill("1000")
    page.get_by_label("Start", exact=True).select_option("trigger")
    page.get_by_role("button", name="Measure").click()
    expect(page.locator(".results .verdict")).to_have_text("within")
    page.get_by_role("button", name="Record 14.0").click()
    expect(page.get_by_text("is recorded.")).to_be_visible()
    with served.session() as session:
        (reading,) = Work.resume(session).facts("relay 51", RT).current
        assert reading.judgement.verdict == "within"
        assert abs(float(reading.text) - 14.0253) < 0.002
    page.get_by_role("link", name="Card", exact=True).click()
    expect(page.locator(f"#point-{card.points[1].id}")).to_contain_text("14.02")
    context.close()


def look_from(page: Page, ms: float) -> None:
    """Go to a moment with the keys of the slider, and look from there."""
    slider = page.get_by_label("Moment")
    slider.focus()
    while float((page.locator(".moment output").inner_text()).split()[0]) < ms:
        page.keyboard.press("PageUp")
    page.get_by_role("button", name="Look from here").click()


def move_along(page: Page) -> None:
    """Move the mark with a finger along the drawing, as far as the finger goes."""
    drawing = page.locator(".waveform .drawing")
    drawing.scroll_into_view_if_needed()
    x, y = middle(drawing)
    moment = page.locator(".moment output")
    shown = []
    for dx in (10, 200):
        swipe(page, x, y, dx, 0)
        shown.append(float(moment.inner_text().split()[0]))
    assert shown[1] - shown[0] > 3000
