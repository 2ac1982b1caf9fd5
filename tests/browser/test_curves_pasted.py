"""Curves of readings: a table pasted in, its marks, its value taken by one tap."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Browser, Locator, expect
from sqlalchemy.orm import Session

from models.schema.engine import make_engine
from tests.browser.conftest import Served, app_of, calibrate_until_now, serve
from tests.browser.crew import TABLET_UPRIGHT, AtWork, check_themes, open_page, sign_in
from tests.data.cases_words_rows import CURVE
from tests.models.procedures.computed.test_ct_excitation import PROOF
from tests.scenario import TECHNICIAN, build

pytestmark = pytest.mark.browser

PX = {"ct_class": "5P20", "ct_secondary_a": 5.0, "knee_v": 250.0}
EXCITED = replace(PROOF, apparatus=("ct", "CT 1", PX))
PASTE = """(node, text) => {
  const data = new DataTransfer();
  data.setData("text/plain", text);
  node.dispatchEvent(new ClipboardEvent("paste",
    { clipboardData: data, bubbles: true, cancelable: true }));
}"""
PAIRS = [pair.split(":") for pair in CURVE.split()]
# What is pasted, and what is said of it.
REFUSED = {
    "a decimal comma": ("10,5\t0,0046\n20,5\t0,0075", "12.5, not 12,5"),
    "decimal commas between commas": ("10,5,0,0046\n20,5,0,0075", "12.5, not 12,5"),
    "three columns": ("10;0.1;ok\n20;0.2;ok", "Line 1 has 3 columns"),
    "a word further down": ("V;A\n10;0.1\nrange;0.2", "Line 3: “range” is no number"),
    "a cell that is empty": ("10\t0.1\n20\t", "Line 2: a cell is empty"),
    "up and down": ("10;1\n20;2\n15;1.5", "20 and 15 V in lines 2 and 3"),
    "no number": ("volts;amperes\nV;A", "no number in what was pasted"),
    "more than a row takes": (
        "\n".join(f"{n};{n}" for n in range(1, 42)),
        "41 lines were pasted, and a row takes 40",
    ),
}
TAKEN = {
    "tabs, with a heading": "Voltage\tCurrent\nV\tA\n10\t0.1\n20\t0.2",
    "semicolons": "10;0.1\r\n20;0.2\r\n",
    "commas": "10,0.1\n20,0.2",
    "spaces": "10  0.1\n20  0.2",
    "falling": "20;0.2\n10;0.1",
}


@pytest.fixture
def excited(sqlite_url: str) -> Iterator[Served]:
    """The program with a current transformer, a card of excitation for it."""
    engine = make_engine(sqlite_url)
    with Session(engine, expire_on_commit=False) as session:
        build(session, [EXCITED.apparatus])
        calibrate_until_now(session)
        session.commit()
    engine.dispose()
    with serve(app_of(sqlite_url), sqlite_url) as served:
        yield served


def cells(bench: Locator) -> list[str]:
    found: list[str] = bench.locator(".cells input").evaluate_all(
        "nodes => nodes.map((node) => node.value)"
    )
    return found


def test_an_excitation_curve_is_pasted_and_gives_its_value(
    browser: Browser, excited: Served
) -> None:
    with excited.session() as session:
        began = datetime.now(UTC) - AtWork.BEGAN_AGO
        work = AtWork(session, EXCITED.plan(session, began), began)
        work.confirm("CT 1", EXCITED.procedure)
        session.commit()
        card, round_id = work.card("CT 1", EXCITED.procedure), work.round_id
        point = card.points[0].label
    context, page = open_page(browser, excited, TABLET_UPRIGHT)
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/#/cards/{card.id}")
    row = page.get_by_role("group", name=f"Point {point}", exact=True)
    bench = page.get_by_role("region", name=f"Excitation curve at {point}")
    expect(bench.locator(".curve-empty")).to_contain_text("At least 8 pairs")
    expect(bench.locator(".cell")).to_have_count(8)
    first, said = bench.locator(".cells input").first, bench.get_by_role("status")
    for text, words in REFUSED.values():
        first.evaluate(PASTE, text)
        expect(said).to_contain_text(words)
        assert not any(cells(bench)), text
    for name, text in TAKEN.items():
        first.evaluate(PASTE, text)
        expect(said).to_contain_text("2 lines pasted")
        assert cells(bench) == ["10", "0.1", "20", "0.2"], name
    expect(said).to_contain_text("turned round")

    first.evaluate(PASTE, "\n".join("\t".join(pair) for pair in PAIRS[:14]))
    expect(bench.locator(".row-lacks")).to_contain_text("No knee up to 280 V")
    first.evaluate(PASTE, "\n".join("\t".join(pair) for pair in reversed(PAIRS)))
    expect(bench.locator("circle")).to_have_count(len(PAIRS))
    marks = bench.locator("svg .d-figure").all_text_contents()
    assert {"knee +10 % V, +50 % A", "knee 45°", "knee 30°"} <= set(marks)
    check_themes(page)
    bench.get_by_role("button", name="Take 264.4 V from the curve").click()
    expect(page.get_by_label(f"Reading at {point}", exact=True)).to_have_value("264.4")
    expect(row.locator(".verdict").first).to_have_text("within")
    expect(bench.get_by_role("button", name="from the curve")).to_have_count(0)
    context.close()
