"""Readings from a test set's table, from the card on the tablet and back to it."""

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    check_themes,
    open_page,
    sign_in,
)
from tests.scenario import CR, TECHNICIAN

pytestmark = pytest.mark.browser


def test_rows_go_from_a_file_to_the_card(browser: Browser, served: Served) -> None:
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm("breaker 52", CR)
        session.commit()
        card, round_id = work.card("breaker 52", CR), work.round_id
        labels = [point.label for point in card.points]
    rows = "".join(f"{label};4{n},5\n" for n, label in enumerate(labels))
    data = f"Point;Value\n{rows}Nowhere;4,1\n".encode()
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card.id}")
    page.get_by_role("link", name="Readings from a file").click()
    file_field = page.get_by_label("The file")
    expect(file_field).to_be_visible()
    check_page(page)
    file_field.set_input_files(
        [{"name": "set.csv", "mimeType": "text/csv", "buffer": data}]
    )
    page.get_by_role("button", name="Read it").click()
    expect(page.get_by_label("Point", exact=True)).to_have_value("0")
    check_page(page)
    page.get_by_label("Decimal sign").select_option(",")
    page.get_by_label("Test current, dc in all rows").fill("100")
    page.get_by_label("Temperature of the conductor in all rows").fill("20")
    page.get_by_role("button", name="Look at the rows").click()
    expect(page.get_by_text("1 of 4 rows has a fault")).to_be_visible()
    expect(page.get_by_text("no point “Nowhere”")).to_be_visible()
    check_page(page)
    page.get_by_label("Rows to leave out").fill("5")
    page.get_by_role("button", name="Look at the rows").click()
    expect(page.get_by_text("Nothing is stored yet")).to_be_visible()
    assert "unjudged" not in page.content()
    check_themes(page)
    page.get_by_role("button", name="Record 3 rows").click()
    expect(page.get_by_text("3 readings of set.csv are recorded")).to_be_visible()
    page.get_by_role("link", name="set.csv").click()
    expect(page.get_by_text("Columns as on")).to_be_visible()
    page.get_by_role("link", name="Card", exact=True).click()
    expect(page.locator(f"#point-{card.points[0].id}")).to_contain_text("40.5")
    context.close()
