"""The pages of apparatus: search, one with its history, a move, plates to confirm."""

from collections.abc import Callable

from tests.scenario import CR, LEAD, OWNER, SECOND, SITE, fixed_id, lineup_id
from tests.webapp.desk import Desk

BREAKER = f"/gear/things/{fixed_id(f'{SITE} breaker 52')}"
SHELF = f"/gear/sites/{fixed_id(SITE)}/shelf"
PLATES = f"/gear/lineups/{lineup_id()}/plates"


def test_a_breaker_is_found_moved_and_shelved(desk_at: Callable[[str], Desk]) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.fill("breaker 52", CR)
        day = work.at.date().isoformat()
    lead = desk.person(LEAD)
    assert "breaker 52" in lead.get("/gear/?words=bre").text
    assert "No apparatus is like that." in lead.get("/gear/?words=zzz").text
    page = lead.get(BREAKER)
    assert "since it was entered" in page.text
    assert "3 within" in page.text
    faulty = lead.faulty(f"{BREAKER}/move", cell="", day="", reason="x")
    assert set(faulty.faults) == {"cell"}
    faulty = lead.faulty(f"{BREAKER}/move", cell="shelf", day="", reason="")
    assert set(faulty.faults) == {"day", "reason"}
    answer = lead.post(f"{BREAKER}/move", cell="shelf", day=day, reason="worn contacts")
    shown = lead.follow(answer)
    assert "worn contacts" in shown.text
    assert "breaker 52" in lead.get(SHELF).text
    assert "Move it" not in desk.person(OWNER).get(BREAKER).text


def test_plates_are_compared_and_ticked(desk_at: Callable[[str], Desk]) -> None:
    desk = desk_at("opened")
    second = desk.person(SECOND)
    page = second.get(PLATES)
    assert "Each is confirmed by a second person." in page.text
    answer = second.post(PLATES)
    assert "Tick what you compared." in second.follow(answer).text
