"""Baseline, trend and gear book: what an owner compares, at 20 degC."""

from datetime import timedelta
from math import log
from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.schema import Round
from models.services.field.round_document import round_document
from models.services.owner.baseline import baseline_round, baseline_values
from models.services.owner.gear_book import BookRow, GearBook, gear_book
from models.services.owner.list_lineups import list_lineups
from models.services.owner.trends import Trend, trend
from models.services.turnover.list_rounds import list_rounds
from tests.scenario import (
    AT_10,
    AT_30,
    BEGAN,
    CR,
    IR,
    LEAD,
    OWNER,
    RT,
    TECHNICIAN,
    Work,
    lineup_id,
    short_round,
)


def later(work: Work, days: int, kind: str = "maintenance") -> Work:
    return Work.begin(work.session, kind=kind, at=work.at + timedelta(days=days))


def book_of(work: Work) -> GearBook:
    return gear_book(work.session, person_id=OWNER.id, lineup_id=lineup_id())


def row(book: GearBook, procedure: str, point: str) -> BookRow:
    (found,) = (
        r
        for r in book.rows
        if (r.procedure, r.point) == (procedure, point) and r.baseline
    )
    return found


# procedure, point -> (baseline at 20 degC, latest at 20 degC, change in percent).
# Solid insulation, factors 1.58 at 30 degC and 0.63 at 10 degC (the table's rows):
#   6.00 GOhm x 1.58 = 9480 MOhm; 12.0 x 0.63 = 7560 MOhm; 7560 / 9480 = 0.79747.
# Copper, (234.5 + 20) / (234.5 + T) (IEC 60028): 254.5 / 264.5 and 254.5 / 244.5:
#   40.0 uOhm -> 38.48771 and 41.63599; the ratio is 264.5 / 244.5 = 1.081800.
# A relay's times are not corrected.
BY_HAND: dict[tuple[str, str], tuple[float | None, float | None, float | None]] = {
    (IR, "A-G"): (9480.0, 7560.0, -20.2532),
    (IR, "B-G"): (316000.0, 94500.0, None),  # over range: a bound, not a number
    (IR, "C-G"): (9796.0, 126000.0, None),
    (CR, "pole A"): (38.48771, 41.63599, 8.1800),
    (CR, "pole B"): (37.52552, 37.47239, -0.141576),
    (RT, "3 × pickup"): (5.88, 6.00, 2.0408),
    (RT, "0.95 × pickup"): (None, None, None),
}


def test_baseline_and_latest_are_compared_at_20_degrees(compared: Work) -> None:
    book = book_of(compared)
    for (procedure, point), (base, latest, change) in BY_HAND.items():
        found = row(book, procedure, point)
        assert found.baseline is not None and found.latest is not None
        got = (found.baseline["value"], found.latest["value"], found.change_pct)
        wanted = [n and pytest.approx(n, rel=1e-5) for n in (base, latest, change)]
        assert list(got) == wanted, point
        assert found.latest_round == "Maintenance round 1"


def test_what_moved_the_wrong_way_comes_first(compared: Work) -> None:
    """Insulation falls, contacts rise, relays may go either way."""
    book = book_of(compared)
    worse = {
        (IR, "A-G"): -log(7560 / 9480),
        (CR, "pole A"): log(264.5 / 244.5),
        (CR, "pole B"): log(37.47239 / 37.52552),
        (RT, "3 × pickup"): log(6.00 / 5.88),
        (RT, "5 × pickup"): -log(2.60 / 2.66),
    }
    for (procedure, point), value in worse.items():
        assert row(book, procedure, point).worse == pytest.approx(value, rel=1e-4)
    assert [(r.procedure, r.point) for r in book.moved][:2] == [
        (IR, "A-G"),
        (CR, "pole A"),
    ]
    assert (CR, "pole B") not in {(r.procedure, r.point) for r in book.moved}


def trend_at(work: Work, label: str, procedure: str, point: int) -> Trend:
    return trend(
        work.session,
        person_id=OWNER.id,
        point_id=work.card(label, procedure).points[point].id,
    )


def test_the_trend_is_the_same_through_any_rounds_point(compared: Work) -> None:
    first = Work(compared.session, _oldest(compared), BEGAN)
    a, b = (trend_at(work, "bus", IR, 0) for work in (first, compared))
    assert a.points == b.points
    assert [p.value for p in a.points] == pytest.approx([9480.0, 7560.0])
    assert [p.text for p in a.points] == ["6.00", "12.0"]
    assert [p.change_pct for p in a.points] == [None, pytest.approx(-20.2532, rel=1e-5)]
    assert (a.limit_low, a.limit_high, a.unit, a.logarithmic) == (
        5000.0,
        None,
        "MOhm",
        True,
    )
    over = trend_at(compared, "bus", IR, 1).points
    assert [(p.over_range, p.under_range) for p in over] == [
        (True, False),
        (False, False),
    ]


def _oldest(work: Work) -> Any:
    return list_rounds(work.session, person_id=OWNER.id).rows[-1].id


def test_mates_of_a_pole_are_the_others_it_is_compared_with(compared: Work) -> None:
    found = trend_at(compared, "breaker 52", CR, 0)
    assert [label for label, _, _ in found.mates] == ["pole B", "pole C"]
    assert [len(points) for _, _, points in found.mates] == [2, 2]


def test_an_open_round_is_in_no_trend_and_no_book(compared: Work) -> None:
    work = later(compared, 70)
    work.confirm("bus", IR)
    work.read("bus", IR, "1.0")
    assert len(trend_at(work, "bus", IR, 0).points) == 2
    book = book_of(work)
    assert len(book.rounds) == 2
    (one,) = list_lineups(work.session, person_id=OWNER.id).rows
    assert (one.rounds, one.open_rounds, one.to_accept) == (2, 0, 1)
    (one,) = list_lineups(work.session, person_id=LEAD.id).rows
    assert (one.rounds, one.open_rounds) == (2, 1)


def test_a_maintenance_round_shows_the_baseline_beside_each_point(
    compared: Work,
) -> None:
    work = later(compared, 70)
    document = round_document(
        work.session, person_id=TECHNICIAN.id, round_id=work.round_id, now=work.at
    )
    shown = {
        (card["apparatus"]["label"], card["procedure"], point["label"]): point[
            "baseline"
        ]
        for card in document["cards"]
        for point in card["points"]
    }
    base = shown["bus", IR, "A-G"]
    assert (base["text"], base["unit"], base["value"], base["value_unit"]) == (
        "6.00",
        "GOhm",
        9480.0,
        "MOhm",
    )
    assert shown["bus", CR, "phase A"] is None  # never measured
    # The card in the answer to an entry shows the same.
    (answer,) = work.send(work.entry(work.card("bus", IR), "note", text="x"))
    assert answer["card"]["points"][0]["baseline"] == base


def test_an_acceptance_round_shows_no_baseline(opened: Work) -> None:
    document = round_document(
        opened.session, person_id=TECHNICIAN.id, round_id=opened.round_id, now=opened.at
    )
    assert {p["baseline"] for c in document["cards"] for p in c["points"]} == {None}


def test_the_baseline_is_fixed_by_acceptance(opened: Work) -> None:
    """Open: none. Approved: provisional. Accepted: stays, until another is accepted."""

    def base() -> tuple[str, str] | None:
        found = baseline_round(opened.session, lineup_id())
        return (found.title, found.state) if found else None

    assert base() is None
    assert baseline_values(opened.session, lineup_id()) == {}
    short_round(opened, AT_30, 30)
    assert base() == ("Acceptance round 1", "approved")
    opened.accept()
    assert base() == ("Acceptance round 1", "accepted")
    second = short_round(later(opened, 30, "acceptance"), AT_10, 10)
    assert base() == ("Acceptance round 1", "accepted")
    second.accept()
    assert base() == ("Acceptance round 2", "accepted")
    found = trend_at(second, "bus", IR, 0)
    assert found.points[-1].change_pct is None  # it is the baseline itself


def test_a_book_without_a_round_is_a_nameplate(place: Session) -> None:
    book = gear_book(place, person_id=OWNER.id, lineup_id=lineup_id())
    assert (book.rounds, book.rows, book.baseline_round, book.moved) == (
        [],
        [],
        None,
        [],
    )
    assert ("Rated maximum voltage", "15 kV") in book.nameplate
    assert book.ratings == "Rated 15 kV · 95 kV impulse · 36 kV power frequency · 50 Hz"


def test_the_book_names_what_deviates_and_why(opened: Work) -> None:
    opened.confirm("bus", IR)
    first, marginal = opened.read("bus", IR, "1.0", "5.1")
    opened.again("bus", IR, first, "9.0")
    opened.dispose(marginal)
    card = opened.card("bus", IR)
    opened.store(
        opened.entry(
            card, "deficiency", text="dust", holder="owner", severity="may_follow"
        )
    )
    opened.read("bus", IR, "9.2", "41", "44", "39")
    opened.confirm("bus", IR, after=True)
    opened.sign(("bus", IR))
    for label, procedure in opened.cards:
        if (label, procedure) != ("bus", IR):
            opened.withdraw(label, procedure)
    opened.turn_over(accept=False)
    found = [d.finding for d in book_of(opened).deviations]
    assert [(d.kind, d.verdict, d.decided) for d in found][:2] == [
        ("reading", "marginal", "use as it is"),
        ("deficiency", None, "open, held by owner"),
    ]
    assert [d.kind for d in found][2:] == ["card"] * (len(opened.cards) - 1)
    assert opened.session.get_one(Round, opened.round_id).state == "approved"
