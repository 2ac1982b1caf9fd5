"""A lineup from a table, in the browser: template, faults, preview, saved."""

import pytest
from playwright.sync_api import Browser, expect

from models.services.setup.import_lineup import read_lineup_table
from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
    TABLET,
    TABLET_UPRIGHT,
    check_page,
    open_page,
    sign_in,
)
from tests.scenario import LEAD, SITE, fixed_id
from tests.webapp.setup.test_import import TABLE

pytestmark = pytest.mark.browser
SIZES = (TABLET_UPRIGHT, TABLET, DESK)


def test_a_lineup_is_imported(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    page.goto(f"/setup/sites/{fixed_id(SITE)}")
    page.get_by_role("link", name="Import a lineup").click()
    check_page(page)
    with page.expect_download() as handed:
        page.get_by_role("link", name="CSV for metal-clad").click()
    assert handed.value.suggested_filename == "lineup-metal-clad.csv"
    for text, expected in (
        (TABLE.replace(",2000\n2", ",two\n2"), "one thing is to be mended"),
        (TABLE, "SG-9: what would come"),
    ):
        file = {"name": "a.csv", "mimeType": "text/csv", "buffer": text.encode()}
        page.get_by_label("The filled table").set_input_files(file)
        page.get_by_role("button", name="Show what would come").click()
        expect(page.get_by_text(expected).first).to_be_visible()
        for width, height in SIZES:
            page.set_viewport_size({"width": width, "height": height})
            check_page(page)
    page.get_by_role("button", name="Open in the editor").click()
    expect(page.get_by_text("Cell 1 · Incomer")).to_be_visible()
    page.get_by_role("button", name="Save lineup").press("Enter")
    page.get_by_role("link", name="As a table").click()
    check_page(page)
    with page.expect_download() as handed:
        page.get_by_role("link", name="Get it as CSV").click()
    assert read_lineup_table(handed.value.path().read_bytes()).name == "SG-9"
    context.close()
