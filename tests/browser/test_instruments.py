"""A card knows its instruments: which fit, what is beyond one, when one falls due."""

from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy.orm import Session

from models.record.instrument import Range
from models.schema import Instrument
from models.services.setup import assets
from models.services.setup.instrument_ranges import rows_of
from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.scenario import IR, LEAD, TECHNICIAN, Work, fixed_id

pytestmark = pytest.mark.browser

ABLE = {
    "IR-1": [
        Range(unit="GOhm", low=0, high=10, pct_reading=5, fixed=0.02),
        Range(unit="GOhm", low=10, high=200, pct_reading=10),
        Range(does="applies", unit="kV", supply="dc", low=0.25, high=5),
    ],
    "IR-NEW": [Range(does="applies", unit="kV", supply="dc", low=0.25, high=1)],
}


def equip(session: Session) -> None:
    """Give two testers their ranges, and a third a calibration that soon ends."""
    for tag, ranges in ABLE.items():
        row = session.get_one(Instrument, fixed_id(tag))
        row.ranges.clear()
        session.flush()
        row.ranges.extend(rows_of(row.id, ranges))
    today = datetime.now(UTC).date()
    assets.add_calibration(
        session,
        calibration_id=fixed_id("IR-DUE, the last"),
        instrument_id=fixed_id("IR-DUE"),
        calibrated_on=today - timedelta(days=10),
        due_on=today + timedelta(days=20),
        certificate_no="N-DUE-2",
        laboratory="Plinth Calibration",
    )


def test_what_fits_is_offered_and_what_is_beyond_is_said_at_once(
    browser: Browser, served: Served
) -> None:
    with served.session() as session:
        equip(session)
        work = AtWork.now(session)
        work.confirm("bus", IR)
        session.commit()
        card, round_id = work.card("bus", IR), work.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card.id}")
    first, second = card.points[:2]
    page.get_by_label("Temperature of the insulation").fill("20")
    field = page.locator(f'[data-focus="reading-{first.id}"]')
    field.fill("9.0")
    verdict_at(page, first.label, "within")
    assert "calibration" not in page.locator(f"#point-{first.id}").inner_text()

    options = page.get_by_label("Instrument").locator("option").all_inner_texts()
    assert any("IR-DUE" in one and "due in" in one for one in options)
    assert not any("IR-NEW" in one for one in options)  # 1 kV is too little
    page.get_by_role("button", name="show all").click()
    options = page.get_by_label("Instrument").locator("option").all_inner_texts()
    assert any("IR-NEW" in one and "does not reach" in one for one in options)
    about = page.locator("#instrument-about")
    page.get_by_label("Instrument").select_option(str(fixed_id("IR-DUE")))
    expect(about).to_contain_text("falls due within 30 days")

    page.get_by_label("Instrument").select_option(str(fixed_id("IR-1")))
    level = page.get_by_label("Test voltage")
    level.fill("10")
    expect(about).to_contain_text("IR-1 puts out 0.25 to 5 kV dc")
    verdict_at(page, first.label, "unjudged")
    check_page(page)
    level.fill("2.5")
    expect(about).not_to_contain_text("puts out")
    verdict_at(page, first.label, "within")
    record(page, first.label, "9.0")
    record(page, second.label, "300")
    verdict_at(page, second.label, "unjudged")
    expect(page.locator(".signal")).to_have_text("Everything is recorded")
    with served.session() as session:
        facts = Work.resume(session).facts("bus", IR)
        kept = {r.point.label: r for r in facts.current}
        assert kept[first.label].judgement.verdict == "within"
        assert kept[second.label].judgement.verdict == "unjudged"
        assert kept[second.label].conditions["instrument_limit"] == "reading"
    context.close()


def test_the_register_is_kept_with_the_keyboard_alone(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    page.goto("/instruments/new")
    check_page(page)
    for label, text in (
        ("Tag", "IR-50"),
        ("What it is", "tester"),
        ("Serial number", "7"),
    ):
        page.get_by_label(label, exact=True).fill(text)
    page.get_by_label("Insulation resistance").press("Space")
    _range(page, "Range 1", {"From": "0", "To": "10", "Unit": "GOhm"})
    page.get_by_label("Serial number").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("IR-50 · tester")
    check_page(page)
    page.goto("/instruments/?words=ir-5")
    expect(page.get_by_role("link", name="IR-50")).to_be_visible()
    check_page(page)
    page.goto("/instruments/import")
    check_page(page)
    context.close()


def _range(page: Page, name: str, typed: dict[str, str]) -> None:
    row = page.get_by_role("group", name=name)
    for label, text in typed.items():
        row.get_by_label(label, exact=True).fill(text)
