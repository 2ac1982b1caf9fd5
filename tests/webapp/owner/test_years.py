"""Over the years: a vacuum pressure with its time left, and rows round by round."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest

from models.services.owner.gear_book import gear_book
from models.services.owner.trends import Trend, trend
from models.services.setup import assets
from tests.conftest import Stages
from tests.scenario import IR, OWNER, VI, Work, fixed_id, lineup_id
from tests.webapp.desk import Desk

BOOK = f"/owner/lineups/{lineup_id()}"
MAGNETRON = {"method": "magnetron"}

# Round by round, a year apart, Pa: pole A flat, pole B a bound once, pole C doubling.
PRESSURES = (
    ("2.1e-4", "3.0e-4", "6.5e-4"),
    ("2.1e-4", "<1e-4", "1.3e-3"),
    ("2.1e-4", "3.0e-4", "2.6e-3"),
)
# Insulation after so many seconds, GΩ: 6.00 / 5.00 and 7.50 / 6.00 in each round.
ROWS = {"timed": "30:5.00 60:6.00 600:7.50", "steps": "0.5:6.10 2.5:6.00"}
WARM = {"temperature_c": 20, "humidity_pct": 50, "test_kv": 2.5}


def play(work: Work, texts: tuple[str, ...], rows: dict[str, str]) -> None:
    """Fill two cards, leave the others out, turn over."""
    for label, procedure in work.cards:
        if (label, procedure) not in (("breaker 52", VI), ("bus", IR)):
            work.withdraw(label, procedure)
    work.fill("breaker 52", VI, *texts, unit="Pa", conditions=MAGNETRON)
    work.confirm("bus", IR)
    work.read("bus", IR, "6.00", conditions=WARM | rows)
    work.fill("bus", IR, "9.5", "9.2", "41", "44", "39", conditions=WARM)
    work.turn_over()


@pytest.fixture(scope="module")
def desk(sqlite_stages: Stages) -> Iterator[Desk]:
    """Three rounds, a year apart; the tests of this file only look."""
    desk = Desk(sqlite_stages.fresh("opened"))
    with desk.work() as work:
        for tag in ("IR-1", "HV-1"):
            assets.add_calibration(
                work.session,
                calibration_id=fixed_id(f"{tag} later"),
                instrument_id=fixed_id(tag),
                calibrated_on=date(2026, 6, 1),
                due_on=date(2029, 6, 1),
                certificate_no=f"N-{tag}-2",
                laboratory="Plinth Calibration",
            )
        for n, texts in enumerate(PRESSURES):
            at = work.at + timedelta(days=365)
            later = Work.begin(work.session, kind="maintenance", at=at) if n else work
            play(later, texts, ROWS if n != 1 else {})
            work = later
    yield desk
    desk.close()


def trend_at(desk: Desk, label: str, procedure: str, at: int) -> Trend:
    with desk.work() as work:
        point = work.card(label, procedure).points[at].id
        return trend(work.session, person_id=OWNER.id, point_id=point)


def page_of(desk: Desk, label: str, procedure: str, at: int) -> Any:
    with desk.work() as work:
        point = work.card(label, procedure).points[at].id
    return desk.person(OWNER).get(f"/owner/points/{point}")


def test_a_pressure_that_doubles_has_its_time_and_what_it_assumes(desk: Desk) -> None:
    """log2(10 / 2.6) = 1.94 doublings, of a year each."""
    found = trend_at(desk, "breaker 52", VI, 2).pressure
    assert found is not None and found.left is not None
    assert found.left.about == pytest.approx(1.94, abs=0.02)
    page = page_of(desk, "breaker 52", VI, 2)
    assert "about 1.9 years (1.9 to 2)" in page.text
    assert "the same factor every year (common practice)" in page.text
    assert "× 2.0" in page.text
    assert "No verdict rests on a trend" in page.text
    assert "d-band" in page.html


def test_a_flat_pressure_has_no_time(desk: Desk) -> None:
    page = page_of(desk, "breaker 52", VI, 0)
    assert "The pressure does not rise: no time to the limit is given." in page.text


def test_a_bound_takes_no_part(desk: Desk) -> None:
    found = trend_at(desk, "breaker 52", VI, 1).pressure
    assert found is not None and found.line is not None
    assert found.line.rounds == 2


def test_what_is_no_pressure_has_no_such_trend(desk: Desk) -> None:
    assert trend_at(desk, "bus", IR, 0).pressure is None
    assert "Time left" not in page_of(desk, "bus", IR, 0).text


def test_the_gear_book_puts_the_least_time_first(desk: Desk) -> None:
    with desk.work() as work:
        book = gear_book(work.session, person_id=OWNER.id, lineup_id=lineup_id())
    assert [row.point for row, _ in book.pressures] == ["pole C", "pole A", "pole B"]
    text = desk.person(OWNER).get(BOOK).text.split("Vacuum pressure: time left")[1]
    assert text.index("pole C") < text.index("about 1.9 years") < text.index("pole A")


def test_rows_stand_round_by_round_newest_first(desk: Desk) -> None:
    found = trend_at(desk, "bus", IR, 0)
    kinds = [(row.series.name, row.round_title) for row in found.rows]
    assert kinds == [
        ("timed", "Maintenance round 2"),
        ("timed", "Acceptance round 1"),
        ("steps", "Maintenance round 2"),
        ("steps", "Acceptance round 1"),
    ]
    page = page_of(desk, "bus", IR, 0)
    part = page.text.split("Readings over time, round by round")[1]
    timed, steps = part.split("Step voltage, round by round")
    assert timed.count("1.25") == 2  # 7.50 over 6.00
    assert timed.count("1.20") == 2  # 6.00 over 5.00
    assert steps.count("0.984") == 2  # 6.00 over 6.10
    assert "Information only, no verdict" in timed
    assert page.html.count("drawing-series-curve") == 2


def test_a_point_without_rows_says_nothing_of_them(desk: Desk) -> None:
    assert "round by round" in page_of(desk, "bus", IR, 1).text
    assert "Readings over time" not in page_of(desk, "bus", IR, 1).text


def test_the_card_shows_the_rows_of_its_readings(desk: Desk) -> None:
    with desk.work() as work:
        card_id = work.card("bus", IR).id
    page = desk.person(OWNER).get(f"/turnover/cards/{card_id}")
    assert "Readings over time" in page.text and "Step voltage" in page.text
    assert "7.50 GΩ" in page.text
    assert page.html.count("drawing-series-curve") == 2
    assert "30:5.00" not in page.text  # the row as it was sent is no condition to read
