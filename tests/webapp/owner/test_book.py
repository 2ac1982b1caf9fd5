"""The gear book: baseline, what moved, deviations, trends, the file."""

import csv
import re
from collections.abc import Callable, Iterator
from io import StringIO
from urllib.parse import unquote

import pytest

from models.schema import Lineup
from tests.conftest import Stages
from tests.scenario import (
    CR,
    IR,
    LEAD,
    OFF_SITE,
    OWNER,
    OWNER_FIRM,
    RT,
    TECHNICIAN,
    Cast,
    Work,
    lineup_id,
)
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]
BOOK = f"/owner/lineups/{lineup_id()}"


@pytest.fixture(scope="module")
def desk(sqlite_stages: Stages) -> Iterator[Desk]:
    """An accepted round, and a maintenance round in which two things moved.

    The tests of this file only look, so one will do for all.
    """
    desk = Desk(sqlite_stages.fresh("accepted"))
    with desk.work() as work:
        later = Work.begin(work.session, kind="maintenance", at=work.tick(days=80))
        later.fill("breaker 52", CR, "38.6", "39.4", "50.25")
        later.fill("breaker 52", IR, "9.0", ">500", "9.2", *["41"] * 6)
        later.fill_all()
        later.turn_over()
    yield desk
    desk.close()


def trend_of(desk: Desk, label: str, procedure: str, at: int) -> str:
    with desk.work() as work:
        return f"/owner/points/{work.card(label, procedure).points[at].id}"


def test_what_moved_the_wrong_way_stands_first(desk: Desk) -> None:
    page = desk.person(OWNER).get(BOOK)
    moved = page.text.split("Went the wrong way furthest")[1]
    assert moved.index("+25 %") < moved.index("Baseline at 20 °C")
    counts = moved.split("What counts: ")[1].split(".")[0]
    assert counts == (
        "insulation resistance when it falls; contact resistance and vacuum "
        "integrity when it rises; relay trip timing either way"
    )
    assert "40.20 µΩ then, 50.25 µΩ in maintenance round 1" in moved


def test_an_off_scale_reading_has_no_change(desk: Desk) -> None:
    page = desk.person(OWNER).get(trend_of(desk, "breaker 52", IR, 1))
    assert "over 500.0 GΩ" in page.text
    assert "off scale" in page.text


def test_a_trend_has_a_picture_with_its_limit_and_a_table(desk: Desk) -> None:
    page = desk.person(OWNER).get(trend_of(desk, "breaker 52", CR, 2))
    assert "drawing-trend" in page.html
    assert "d-limit-line" in page.html
    assert re.search(r"50\.25 µΩ\s+± 0\.52 µΩ", page.text)
    assert "+25 %" in page.text
    assert "baseline" in page.text
    for mate in ("pole A", "pole B"):
        assert mate in page.text


def test_an_outcome_has_a_table_and_no_picture(desk: Desk) -> None:
    page = desk.person(OWNER).get(trend_of(desk, "bus", "dielectric_withstand", 0))
    assert "drawing-trend" not in page.html
    assert page.text.count("held") == 4


def test_a_time_is_not_said_to_be_at_a_temperature(desk: Desk) -> None:
    page = desk.person(OWNER).get(trend_of(desk, "relay 51", RT, 1))
    assert "At 20 °C" not in page.text
    assert "14.02 s" in page.text


FILTERS = {
    "all": ("", 32),
    "a procedure": ("?procedure=contact_resistance", 6),
    "a cell": ("?cell=1", 32),
    "a cell that is not there": ("?cell=99", 32),
    "both": ("?cell=1&procedure=relay_timing", 5),
}


@pytest.mark.parametrize(("query", "points"), FILTERS.values(), ids=FILTERS)
def test_the_baseline_is_filtered(desk: Desk, query: str, points: int) -> None:
    page = desk.person(OWNER).get(BOOK + query)
    assert f"{points} of 32 points" in page.text
    assert len({link for link in page.links if "/owner/points/" in link}) >= points


def test_the_file_has_a_point_a_row_with_units(desk: Desk) -> None:
    answer = desk.person(OWNER).client.get(f"{BOOK}/baseline.csv")
    assert answer.mimetype == "text/csv"
    rows = list(csv.DictReader(StringIO(answer.get_data(as_text=True))))
    assert len(rows) == 32
    by_place = {(r["apparatus"], r["procedure"], r["point"]): r for r in rows}
    pole = by_place["breaker 52", CR, "pole C"]
    assert float(pole["baseline_at_20_degc"]) == pytest.approx(40.2)
    assert float(pole["latest_at_20_degc"]) == pytest.approx(50.25)
    assert pole["unit_at_20_degc"] == "uOhm"
    assert {"maker", "type", "serial", "built_year"} <= set(pole)
    assert float(pole["change_pct"]) == 25.0
    gap = by_place["breaker 52", IR, "B-G"]
    assert (gap["latest_typed"], gap["latest_bound"]) == (">500", "at_least")
    assert gap["change_pct"] == ""


def test_the_file_has_a_name_in_any_script(desk: Desk) -> None:
    with desk.work() as work:
        lineup = work.session.get_one(Lineup, lineup_id())
        before, lineup.name = lineup.name, 'КРУ–1 "север"'
    answer = desk.person(OWNER).client.get(f"{BOOK}/baseline.csv")
    with desk.work() as work:  # the other tests of this file look at it too
        work.session.get_one(Lineup, lineup_id()).name = before
    assert answer.status_code == 200
    said = answer.headers["Content-Disposition"]
    (name,) = re.findall(r"filename\*=UTF-8''(\S+)", said)
    assert unquote(name) == 'baseline-кру–1-"север".csv'


def test_no_cell_of_the_file_is_a_formula(desk: Desk) -> None:
    with desk.work() as work:
        lineup = work.session.get_one(Lineup, lineup_id())
        before, lineup.name = lineup.name, '=HYPERLINK("x")'
    answer = desk.person(OWNER).client.get(f"{BOOK}/baseline.csv")
    with desk.work() as work:  # the other tests of this file look at it too
        work.session.get_one(Lineup, lineup_id()).name = before
    rows = list(csv.DictReader(StringIO(answer.get_data(as_text=True))))
    assert {row["lineup"] for row in rows} == {'\'=HYPERLINK("x")'}
    assert ">500" in {row["latest_typed"] for row in rows}  # a figure stays as typed


def test_deviations_say_what_was_decided_and_by_whom(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        # 5 GOhm is the least for the 15 kV class: 5.05 lies inside U of the tester.
        keys = work.fill("bus", IR, "9.0", "9.5", "5.05", "41", "44", "39")
        work.fill_all()
        work.dispose(keys[2])
        work.turn_over()
    text = desk.person(OWNER).get(BOOK).text
    deviations = text.split("Deviations")[1]
    assert "C-G: 5.05 GΩ" in deviations
    assert "clear of anything that could harm it" in deviations
    assert LEAD.name in deviations


def test_without_a_baseline_it_says_so(desk_at: DeskAt) -> None:
    owner = desk_at("opened").person(OWNER)
    assert "none yet" in owner.get("/owner/").text
    page = owner.get(BOOK)
    assert "There is no baseline yet" in page.text
    assert "No round has been turned over yet." in page.text


@pytest.mark.parametrize("who", [LEAD, TECHNICIAN], ids=lambda who: who.role)
def test_the_test_firm_may_look_too(desk: Desk, who: Cast) -> None:
    visitor = desk.person(who)
    assert visitor.get(BOOK).status == 200
    assert visitor.get(trend_of(desk, "breaker 52", CR, 0)).status == 200


def test_who_is_assigned_to_no_site_sees_none(desk: Desk) -> None:
    visitor = desk.person(OFF_SITE)
    assert "You are assigned to no site yet" in visitor.get("/owner/").text
    assert visitor.get(BOOK).status == 404
    assert visitor.get(trend_of(desk, "breaker 52", CR, 0)).status == 404
    assert visitor.get(f"{BOOK}/baseline.csv").status == 404


def test_every_link_of_the_book_leads_to_a_page(desk: Desk) -> None:
    owner = desk.person(OWNER)
    page = owner.get(BOOK)
    assert OWNER_FIRM in owner.get("/owner/").text
    inside = {link.partition("#")[0] for link in page.links if link.startswith("/")}
    answers = {link: owner.client.get(link).status_code for link in inside}
    assert not {link: code for link, code in answers.items() if code >= 400}
