"""The pages of an agreement: what waits, answering it, and who finds it."""

from collections.abc import Callable
from uuid import UUID

import pytest

from tests.scenario import IR, LEAD, OWNER, PASSWORD, STRANGER
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]


@pytest.fixture
def waiting(desk_at: DeskAt) -> tuple[Desk, str]:
    """A desk, and the page of an outside reading that waits for the owner."""
    desk = desk_at("confirmed")
    with desk.work() as work:
        (reading,) = work.read("bus", IR, "1.0")
        key: UUID = work.dispose(reading, agreed=False)
    return desk, f"/turnover/agreements/{key}"


def test_the_owner_finds_it_in_the_list_and_agrees(waiting: tuple[Desk, str]) -> None:
    desk, page = waiting
    owner = desk.person(OWNER)
    assert page in owner.get("/turnover/agreements").links
    assert "1.0 GΩ" in owner.get(page).text
    done = owner.follow(owner.post(page, answer="agreed", password=PASSWORD))
    assert f"Agreed · {OWNER.name}" in done.text
    assert page not in owner.get("/turnover/agreements").links


def test_what_is_wrong_is_said_at_its_field(waiting: tuple[Desk, str]) -> None:
    desk, page = waiting
    owner = desk.person(OWNER)
    for sent, said in (
        ({"answer": "agreed", "password": "guess"}, "does not open your key"),
        ({"answer": "agreed", "password": ""}, "you answer by your name"),
        ({"answer": "refused", "password": PASSWORD}, "why you do not agree"),
        ({"password": PASSWORD}, "Agree, or refuse."),
    ):
        answered = owner.post(page, **sent)
        assert (answered.status_code, said in answered.text) == (422, True), sent


def test_who_decided_and_strangers(waiting: tuple[Desk, str]) -> None:
    desk, page = waiting
    assert "You decided this yourself" in desk.person(LEAD).get(page).text
    assert desk.person(STRANGER).client.get(page).status_code == 404


def test_letting_an_outside_reading_stand_asks_for_the_password(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("confirmed")
    with desk.work() as work:
        (reading,) = work.read("bus", IR, "1.0")
    lead, page = desk.person(LEAD), f"/turnover/readings/{reading}/dispose"
    assert "Your password" in lead.get(page).text
    answered = lead.post(page, decision="use_as_is", reason="ok")
    assert answered.status_code == 422
    assert "Say why an outside reading may stand" in answered.text
    assert "Write your password" in answered.text
