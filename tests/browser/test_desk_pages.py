"""The pages of the desk: every size, every theme, nothing found, none too high."""

from uuid import uuid4

import pytest
from playwright.sync_api import Browser

from models.services.turnover.inspections import set_inspection_points
from tests.attaching import put_and_withdraw
from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
    AtWork,
    check_themes,
    open_page,
    sign_in,
)
from tests.scenario import CR, IR, LEAD, OWNER_FIRM, RT, SITE, fixed_id, lineup_id

pytestmark = pytest.mark.browser

BREAKER = f"/gear/things/{fixed_id(f'{SITE} breaker 52')}"
LINEUP = f"/setup/lineups/{lineup_id()}"
PAGES = (
    "/start/",
    "/gear/",
    BREAKER,
    f"{BREAKER}/move",
    f"/gear/sites/{fixed_id(SITE)}/shelf",
    f"/gear/lineups/{lineup_id()}/plates",
    "/setup/",
    LINEUP,
    f"/setup/owners/{fixed_id(OWNER_FIRM)}",
    f"/setup/sites/{fixed_id(SITE)}",
    f"/setup/sites/{fixed_id(SITE)}/safety",
    "/safety/stop",
    f"/instruments/{fixed_id('IR-1')}",
    f"/instruments/{fixed_id('IR-1')}/change",
    f"/owner/lineups/{lineup_id()}",
    "/account/password",
    "/library/settings",
    "/library/calculator?procedure=cable_tan_delta",
    "/turnover/",
    "/turnover/inspections",
    "/turnover/tablets",
    "/turnover/inspections/{point}",
    "/turnover/rounds/{round}",
    "/turnover/rounds/{round}/cards",
    "/turnover/rounds/{round}/inspections",
    "/turnover/rounds/{round}/safety",
    "/turnover/rounds/{round}/dispose/outside",
    "/turnover/rounds/{round}/package",
    "/turnover/cards/{card}",
    "/turnover/cards/{question}",  # with the cards of one question
    "/turnover/deficiencies",
    "/readings-file/rounds/{round}",
    "/planning/rounds/{round}",
    "/planning/rounds/{round}/add",
    "/files/{file}/withdraw",
)
HIGHEST = 3000  # px, on the desk


def things(served: Served) -> dict[str, object]:
    """Open a round with two readings outside, a witness point and a file."""
    with served.session() as session:
        work = AtWork.now(session)
        work.confirm("breaker 52", CR)
        work.read("breaker 52", CR, "261.7", "262")
        card, waiting = work.card("breaker 52", CR), work.card("bus", IR)
        (point,) = set_inspection_points(
            session,
            person_id=LEAD.id,
            card_ids=[waiting.id],
            kind="witness",
            party="the insurer's engineer",
            party_id=None,
            notice_hours=24,
            reason="clause 7.2",
            now=work.tick(),
            new_id=uuid4,
        )
        file = put_and_withdraw(work, "card", card.id)
        found = {"round": work.round_id, "card": card.id, "point": point, "file": file}
        found["question"] = work.card("relay 51", RT).id
        session.commit()
    return found


def test_every_page_of_the_desk(browser: Browser, served: Served) -> None:
    found = things(served)
    context, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    for path in PAGES:
        answer = page.goto(path.format(**found))
        assert answer
        assert answer.status == 200, path
        check_themes(page)
        high = page.evaluate("document.documentElement.scrollHeight")
        assert high <= HIGHEST, f"{path} is {high} px high"
    context.close()
