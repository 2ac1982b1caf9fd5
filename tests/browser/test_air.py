"""The air's own temperature on a card: may be left out, may be below zero."""

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.scenario import IR, TECHNICIAN, Work

pytestmark = pytest.mark.browser


def test_the_dew_point_is_worked_with_the_air_as_it_is(
    browser: Browser, served: Served
) -> None:
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm("bus", IR)
        session.commit()
        card, round_id = work.card("bus", IR), work.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card.id}")
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")
    page.get_by_label("Temperature of the insulation").fill("20")
    page.get_by_label("Relative humidity").fill("50")
    air = page.get_by_label("Air temperature")
    air.fill("-3.5")
    expect(page.locator("#condition-air_temperature_c-fault")).to_be_hidden()
    check_page(page)
    first, second = card.points[:2]
    record(page, first.label, "9.0")
    verdict_at(page, first.label, "within")
    air.fill("")
    record(page, second.label, "9.0")
    verdict_at(page, second.label, "within")
    expect(page.locator(".signal")).to_have_text("Everything is recorded")
    with served.session() as session:
        readings = Work.resume(session).facts("bus", IR).current
        kept = {r.point.label: r.conditions.get("air_temperature_c") for r in readings}
    assert kept == {first.label: -3.5, second.label: None}
    context.close()
