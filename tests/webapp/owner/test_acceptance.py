"""The owner accepts a package, and the baseline is fixed from then on."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from models.services.turnover.acceptance import ACCEPTED, ACCEPTED_LATER
from tests.scenario import (
    BEGAN,
    LEAD,
    OTHER_LEAD,
    OWNER,
    PASSWORD,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
    lineup_id,
)
from tests.webapp.desk import Desk
from webapp.package_files import make_signed

DeskAt = Callable[[str], Desk]
LATER = BEGAN + timedelta(days=70)  # its instruments are in calibration still
BOOK = f"/owner/lineups/{lineup_id()}"


@pytest.fixture
def desk(desk_at: DeskAt) -> Desk:
    """An acceptance round that is approved and waits for its owner."""
    return desk_at("approved")


@pytest.fixture
def path(desk: Desk) -> str:
    """The address of its acceptance."""
    with desk.work() as work:
        return f"/owner/rounds/{work.round_id}/accept"


def test_the_gear_book_says_what_waits_and_leads_there(desk: Desk, path: str) -> None:
    owner = desk.person(OWNER)
    assert "1 package waits for your acceptance" in owner.get("/owner/").text
    book = owner.get(BOOK)
    assert "a baseline in waiting" in book.text
    assert path in book.links


def test_says_what_is_accepted_and_what_follows(desk: Desk, path: str) -> None:
    page = desk.person(OWNER).get(path)
    assert ACCEPTED in page.text
    assert "the baseline of MV-1 is fixed" in page.text
    for person in (TECHNICIAN, LEAD):
        assert person.name in page.text


def test_says_which_deviations_go_with_it(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.fill_all()
        card = work.card("bus", "contact_resistance")
        work.give_back("bus", "contact_resistance")
        label = "Label of the bus is missing"
        work.store(
            work.entry(
                card,
                "deficiency",
                text=label,
                severity="may_follow",
                holder="installer",
            )
        )
        work.sign(("bus", "contact_resistance"))
        work.turn_over(accept=False)
        path = f"/owner/rounds/{work.round_id}/accept"
    text = desk.person(OWNER).get(path).text
    assert label in text
    assert "Open, held by installer" in text


def test_acceptance_fixes_the_baseline(desk: Desk, path: str) -> None:
    owner = desk.person(OWNER)
    book = owner.follow(owner.post(path, password=PASSWORD))
    assert "accepted; its readings are fixed" in book.text
    with desk.work() as work:
        bus = work.card("bus", "insulation_resistance")
        entry = work.reading(bus, bus.points[0], "1.0", reason="an afterthought")
        answer = work.send(entry | {"supersedes": entry["key"]})
        assert answer[0]["status"] == "conflict"
    assert owner.post(path, on=BOOK, password=PASSWORD).status_code == 409
    assert "Nothing is left to do here." in owner.get(path).text


WRONG = {"": "Write your password", "not the password": "does not open your key"}


@pytest.mark.parametrize(("typed", "said"), WRONG.items())
def test_a_wrong_password_accepts_nothing(
    desk: Desk, path: str, typed: str, said: str
) -> None:
    owner = desk.person(OWNER)
    page = owner.faulty(path, password=typed)
    assert said in page.faults["password"]
    assert "a baseline in waiting" in owner.get(BOOK).text


def test_a_file_that_does_not_verify_is_not_accepted(desk_at: DeskAt) -> None:
    """Its bytes are those that were stored, and yet no signed pages."""
    desk = desk_at("complete")
    with desk.work() as work:
        work.turn_over(accept=False)
        path = f"/owner/rounds/{work.round_id}/accept"
    owner = desk.person(OWNER)
    refused = owner.post(path, password=PASSWORD)
    assert refused.status_code == 409
    assert "does not verify" in refused.text
    assert "a baseline in waiting" in owner.get(BOOK).text


@pytest.mark.parametrize("who", [LEAD, TECHNICIAN], ids=lambda who: who.role)
def test_only_an_owner_accepts(desk: Desk, path: str, who: Cast) -> None:
    visitor = desk.person(who)
    assert "The owner’s engineer accepts it." in visitor.get(path).text
    assert visitor.post(path, on=BOOK, password=PASSWORD).status_code == 403


def test_another_owner_finds_nothing_there(desk: Desk, path: str) -> None:
    stranger = desk.person(STRANGER)
    assert stranger.get(path).status == 404
    assert stranger.get(BOOK).status == 404
    assert stranger.get(path.replace("accept", "package.pdf")).status == 404
    assert f"{lineup_id()}" not in stranger.get("/owner/").html


def test_a_later_round_joins_the_record_and_leaves_the_baseline(
    desk: Desk, path: str
) -> None:
    owner = desk.person(OWNER)
    with desk.work() as work:
        work.accept()
        later = Work.begin(work.session, kind="maintenance", at=LATER)
        later.fill_all()
        later.turn_over(make_signed, by=OTHER_LEAD, accept=False)
        newer = f"/owner/rounds/{later.round_id}/accept"
    assert ACCEPTED_LATER in owner.get(newer).text
    book = owner.follow(owner.post(newer, password=PASSWORD))
    assert "The baseline is acceptance round 1, accepted" in book.text
    assert "maintenance round 1 beside it" in book.text
