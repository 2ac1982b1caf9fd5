"""Stop work: one press on any page, read by everybody, released by name."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from sqlalchemy import select

from models.schema import LogEntry, SafetyAct
from tests.models.services.safety.acting import Acting
from tests.scenario import (
    ADMINISTRATOR,
    CR,
    LEAD,
    OFF_SITE_LEAD,
    OTHER_SITE,
    OWNER,
    RIVAL,
    SECOND,
    SITE,
    TECHNICIAN,
    Cast,
    fixed_id,
    lineup_id,
)
from tests.webapp.desk import Desk, Page, Visitor

SAYS = (
    "Stop by voice and at the switch first. This button stops entries only; it "
    "switches nothing off and calls nobody."
)
GOOD = {"reason": "no cause found", "put_right": "barrier back", "agrees": "yes"}


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """The application, with a round that is open."""
    return desk_at("opened")


def press(visitor: Visitor, site: str = SITE, on: str = "/library/") -> Page:
    """Press the button of a page, and read where it leads."""
    found = visitor.post("/safety/stop", on=on, stop_site=fixed_id(site))
    return visitor.follow(found)


def test_the_button_stands_on_every_page_and_stops_the_pages_site(desk: Desk) -> None:
    with desk.work() as work:
        card, round_id = work.card("breaker 52", CR).id, work.round_id
    paths = (
        "/library/",
        "/account/password",
        f"/turnover/cards/{card}",
        f"/turnover/rounds/{round_id}",
        f"/setup/lineups/{lineup_id()}",
    )
    visitor = desk.person(LEAD)
    for path in paths:
        page = visitor.get(path)
        assert SAYS in page.text, path
        assert page.fields["stop_site"] == str(fixed_id(SITE)), path


def test_with_several_sites_the_one_last_worked_on_is_stopped_else_one_is_chosen(
    desk: Desk,
) -> None:
    visitor = desk.person(ADMINISTRATOR)
    page = visitor.get("/start/")
    assert "stop_site" not in page.fields
    assert "/safety/stop" in page.links
    chosen = visitor.get("/safety/stop")
    assert f"Stop work at {SITE}" in chosen.text
    assert f"Stop work at {OTHER_SITE}" in chosen.text
    visitor.get(f"/setup/sites/{fixed_id(OTHER_SITE)}")
    assert visitor.get("/start/").fields["stop_site"] == str(fixed_id(OTHER_SITE))
    visitor.get(f"/setup/lineups/{lineup_id()}")
    assert visitor.get("/start/").fields["stop_site"] == str(fixed_id(SITE))


def test_a_stop_is_read_on_every_page_of_everybody_on_the_site(desk: Desk) -> None:
    stopper, owner, rival = (desk.person(one) for one in (TECHNICIAN, OWNER, RIVAL))
    first = press(stopper)
    assert f"Work at {SITE} is stopped" in first.headline
    assert f"Pressed by {TECHNICIAN.name}" in first.text
    again, other = press(stopper), press(desk.person(SECOND))
    assert links(again) == links(first), "a second press of the same person adds none"
    assert len(links(other)) == 2
    assert f"Stopped by {TECHNICIAN.name}" in desk.person(LEAD).get("/turnover/").text
    said = f"Work at {SITE} is stopped: {TECHNICIAN.name}"
    assert said in owner.get("/library/").text
    assert said not in rival.get("/library/").text
    assert rival.get(links(first)[0]).status == 404
    assert desk.person(OFF_SITE_LEAD).get(links(first)[0]).status == 404
    with desk.work() as work:
        acts = work.session.scalars(select(SafetyAct)).all()
        logged = work.session.scalars(
            select(LogEntry).where(LogEntry.action == "safety")
        ).all()
    assert [one.act for one in acts] == ["stop", "stop"]
    assert [one.actor_id for one in logged] == [TECHNICIAN.id, SECOND.id]


def links(page: Page) -> list[str]:
    """Return where the stops in force are read."""
    return [one for one in page.links if "/safety/stops/" in one]


@pytest.mark.parametrize(
    ("who", "named", "typed", "comes_of_it"),
    [
        (LEAD, None, GOOD, "released"),
        (LEAD, SECOND, GOOD | {"agrees": "no"}, "released"),
        (LEAD, SECOND, GOOD, {"agrees"}),
        (SECOND, SECOND, GOOD, "released"),
        (SECOND, SECOND, GOOD | {"agrees": "no"}, {"agrees"}),
        (SECOND, None, GOOD, "forbidden"),
        (LEAD, None, {}, {"agrees", "reason", "put_right"}),
    ],
    ids=[
        "the lead, where nobody is named",
        "the lead, who pressed does not agree",
        "the lead, who pressed agrees and another is named",
        "somebody named at the briefing",
        "somebody named, who pressed does not agree",
        "somebody not named",
        "nothing typed",
    ],
)
def test_who_releases_a_stop(
    desk: Desk,
    who: Cast,
    named: bool,
    typed: dict[str, str],
    comes_of_it: str | set[str],
) -> None:
    if named:
        name_releaser(desk, named)
    (stop,) = links(press(desk.person(TECHNICIAN)))
    visitor = desk.person(who)
    if isinstance(comes_of_it, set):
        page = visitor.faulty(f"{stop}/release", on=stop, **typed)
        assert set(page.faults) == comes_of_it
        assert page.fields["reason"] == typed.get("reason", "")
        return
    answer = visitor.post(f"{stop}/release", on=stop, **typed)
    if comes_of_it == "forbidden":
        assert answer.status_code == 403
        assert links(visitor.get("/library/")) == [stop]
        return
    page = visitor.follow(answer)
    assert "is released" in page.headline
    assert typed["reason"] in page.text
    assert links(visitor.get("/library/")) == []
    again = visitor.post(f"{stop}/release", on="/library/", **typed)
    assert again.status_code == 409


def name_releaser(desk: Desk, who: Cast) -> None:
    """Let the briefing name *who* as one who may release a stop."""
    with desk.work() as work:
        work.at = datetime.now(UTC)
        acting = Acting(work)
        people = [{"id": str(who.id), "name": who.name}]
        acting.store(
            acting.open_crew(),
            acting.line("crew", acting.crew, "G25b", noted={"releasers": people}),
        )


def test_who_is_not_signed_in_stops_from_a_browser_that_is_known(desk: Desk) -> None:
    visitor = desk.person(TECHNICIAN)
    visitor.get("/library/")
    visitor.client.post("/account/sign-out", data=token(visitor, "/library/"))
    door = visitor.get("/account/sign-in")
    assert SAYS in door.text
    page = press(visitor, on="/account/sign-in")
    assert f"Work at {SITE} is stopped" in page.text
    assert links(page) == [], "who stopped it is read after signing in"
    elsewhere = visitor.post(
        "/safety/stop", on="/account/sign-in", stop_site=fixed_id(OTHER_SITE)
    )
    assert elsewhere.status_code == 422
    with desk.work() as work:
        (act,) = work.session.scalars(select(SafetyAct)).all()
    assert (act.act, act.by_id, act.site_id) == ("stop", None, fixed_id(SITE))


def token(visitor: Visitor, path: str) -> dict[str, str]:
    """Return the token of a page, to be sent."""
    return {"csrf_token": visitor.get(path).fields["csrf_token"]}


def test_pressing_signed_out_is_throttled(desk: Desk) -> None:
    visitor = desk.person(TECHNICIAN)
    visitor.get("/library/")
    visitor.client.post("/account/sign-out", data=token(visitor, "/library/"))
    form = {**token(visitor, "/account/sign-in"), "stop_site": str(fixed_id(SITE))}
    got = [visitor.client.post("/safety/stop", data=form).status_code for _ in range(7)]
    assert got[:4] == [303] * 4
    assert got[-1] == 429


def test_an_unknown_browser_is_told_to_stop_by_voice(desk: Desk) -> None:
    visitor = desk.passer_by()
    door = visitor.get("/account/sign-in")
    assert "Stop by voice and at the switch first." in door.text
    assert "stop_site" not in door.fields
    assert SITE not in door.text
    answer = visitor.post(
        "/safety/stop", on="/account/sign-in", stop_site=fixed_id(SITE)
    )
    assert answer.status_code == 422
    with desk.work() as work:
        assert work.session.scalars(select(SafetyAct)).all() == []
