"""The pages of apparatus at every size: nothing found by axe, nothing too wide."""

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import Served
from tests.browser.crew import DESK, check_themes, open_page, sign_in
from tests.scenario import LEAD, SITE, fixed_id, lineup_id

pytestmark = pytest.mark.browser

BREAKER = f"/gear/things/{fixed_id(f'{SITE} breaker 52')}"
PAGES = (
    "/gear/",
    BREAKER,
    f"{BREAKER}/move",
    f"/gear/sites/{fixed_id(SITE)}/shelf",
    f"/gear/lineups/{lineup_id()}/plates",
)


def test_every_page_at_every_size(browser: Browser, served: Served) -> None:
    context, page = open_page(browser, served, DESK)
    page.emulate_media(reduced_motion="reduce")  # else a colour is on its way
    sign_in(page, LEAD)
    for path in PAGES:
        page.goto(path)
        check_themes(page)
    context.close()
