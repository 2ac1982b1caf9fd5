"""On the tablet, too, a limit that is from memory says so until it is confirmed."""

import pytest
from playwright.sync_api import Browser, expect

from models.judging.rules import rests_on_memory
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
from tests.scenario import IR, LEAD, TECHNICIAN
from tests.table_checking import check_rows

pytestmark = pytest.mark.browser

FACTORS = "insulation_correction_20"


@pytest.mark.parametrize("checked", [False, True], ids=["recalled", "confirmed"])
def test_the_mark_stands_beside_the_limit_and_beside_the_verdict(
    browser: Browser, served: Served, *, checked: bool
) -> None:
    with served.session() as session:
        if checked:
            check_rows(session, LEAD, FACTORS)
        work = AtWork.now(session)
        work.confirm("bus", IR)
        session.commit()
        card, round_id = work.card("bus", IR), work.round_id
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card.id}")
    marks = page.locator(".point-strip .recalled", has_text="from memory")
    wanted = 0 if checked else len(card.points)
    expect(page.locator(".point-strip").first).to_contain_text("at least")
    expect(marks).to_have_count(wanted)
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")
    page.get_by_label("Temperature of the insulation").fill("20")
    record(page, card.points[0].label, "9.0")
    verdict_at(page, card.points[0].label, "within")
    expect(marks).to_have_count(wanted)
    check_page(page)
    context.close()


def test_what_is_beside_a_verdict_counts_here_as_little_as_on_the_server(
    browser: Browser, served: Served
) -> None:
    recalled, read = {"provenance": "memory"}, {"provenance": "published"}
    beside = recalled | {"beside": True}
    cases = [[], [read], [read, recalled], [read, beside], [recalled, beside]]
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    page.goto("/")  # a page of the program may import its modules
    found = page.evaluate(
        "async (cases) => {"
        " const { restsOnMemory } = await import('/static/field/words.js');"
        " return cases.map((cite) => restsOnMemory({ cite })); }",
        cases,
    )
    assert found == [rests_on_memory(cites) for cites in cases]
    assert True in found
    context.close()
