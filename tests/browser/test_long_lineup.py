"""A lineup of forty cells on a tablet: each is in sight and within reach at once."""

import pytest
from playwright.sync_api import Browser, expect

from models.schema import Cell
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    check_layout,
    check_themes,
    open_page,
    sign_in,
)
from tests.scenario import TECHNICIAN, fixed_id, lineup_id

pytestmark = pytest.mark.browser

CELLS = 40
# Of the plates: how many are too small, cut, or below the first screen.
PLATES = """() => {
    const all = [...document.querySelectorAll('nav[aria-label="All cells"] a')];
    const boxes = all.map((one) => one.getBoundingClientRect());
    const right = (one) => one.getBoundingClientRect().right;
    const inside = (one) => [...one.children]
        .filter((part) => !part.classList.contains("out-of-sight"))
        .every((part) => right(part) <= right(one) - 3);
    return [
        all.length,
        boxes.filter((box) => box.width < 48 || box.height < 48).length,
        all.filter((one) => !inside(one)).length,
        boxes.filter((box) => box.top < 0 || box.bottom > innerHeight).length,
    ];
}"""


def test_every_cell_is_found_at_once(browser: Browser, served: Served) -> None:
    with served.session() as session:
        for n in range(2, CELLS + 1):
            number = {17: "17A", CELLS: "H-117A"}.get(n, str(n))
            cell = Cell(id=fixed_id(f"cell {n}"), lineup_id=lineup_id(), position=n)
            cell.number, cell.name = number, f"Feeder {n}"
            cell.kind, cell.bus = "breaker", "bus"
            session.add(cell)
        session.flush()
        round_id = AtWork.now(session).round_id
        session.commit()
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/")
    expect(page.get_by_role("navigation", name="All cells")).to_be_visible()
    for width, height in (TABLET_UPRIGHT, TABLET):
        page.set_viewport_size({"width": width, "height": height})
        check_layout(page)
        assert page.evaluate(PLATES) == [CELLS, 0, 0, 0], (width, height)
    check_themes(page)
    page.get_by_role("link", name=f"H-117A Feeder {CELLS}").first.tap()
    expect(page.locator("#cell-title")).to_be_focused()
    chosen = page.locator('.elevation [aria-current="true"]')
    expect(chosen).to_be_in_viewport(ratio=0.9)
    context.close()
