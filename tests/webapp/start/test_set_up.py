"""The three steps of the set-up, in the pages."""

from collections.abc import Callable, Iterator

import pytest

from tests.scenario import PASSWORD, SECRET
from tests.webapp.desk import Desk, Visitor
from webapp.commands.serve import code_of_first_start
from webapp.config import Config

DeskAt = Callable[[str], Desk]
STEPS = "/start/set-up"


@pytest.fixture
def empty(sqlite_url: str) -> Iterator[tuple[Desk, str]]:
    """The program on a database without anybody, and the code that it prints."""
    desk = Desk(sqlite_url)
    yield desk, code_of_first_start(Config(database=sqlite_url, secret=SECRET))
    desk.close()


def give_code(visitor: Visitor, code: str) -> None:
    page = visitor.follow(
        visitor.post(f"{STEPS}/organisation", code=code, name="Fathom Line Testing")
    )
    assert page.headline == "Who administers it?"


def test_every_page_leads_there_until_it_is_done(empty: tuple[Desk, str]) -> None:
    desk, code = empty
    visitor = desk.passer_by()
    for path in ("/", "/library/", "/account/sign-in", "/nowhere"):
        assert visitor.follow(visitor.client.get(path)).status == 303, path
    asked = visitor.client.get(
        "/field/csrf.json", headers={"Accept": "application/json"}
    )
    assert asked.status_code == 409
    give_code(visitor, code)
    typed = {"name": "Ada Wren", "sign_in": "wren", "lead": "y"}
    page = visitor.follow(
        visitor.post(
            f"{STEPS}/administrator", **typed, password=PASSWORD, again=PASSWORD
        )
    )
    assert page.headline == "Write this down"
    page = visitor.faulty(f"{STEPS}/authority")
    assert "written" in page.faults
    page = visitor.follow(visitor.post(f"{STEPS}/authority", written="y"))
    assert page.headline == "From here to the first card"
    assert "lead, administrator" in page.text
    assert "not written down" not in page.text
    for path in (STEPS, f"{STEPS}/organisation", f"{STEPS}/authority"):
        assert visitor.client.get(path).headers["Location"] == "/", path


def test_the_other_browser_is_told(empty: tuple[Desk, str]) -> None:
    desk, code = empty
    first, second = desk.passer_by(), desk.passer_by()
    second.get(f"{STEPS}/organisation")
    give_code(first, code)
    answer = second.post(f"{STEPS}/organisation", code=code, name="Keel and Bracket")
    assert answer.status_code == 409
    assert "in another browser" in answer.get_data(as_text=True)
    assert second.get(f"{STEPS}/administrator").status == 303


def test_a_wrong_code_is_said_there_and_slows_down(empty: tuple[Desk, str]) -> None:
    desk, code = empty
    visitor = desk.passer_by()
    for _ in range(5):
        page = visitor.faulty(
            f"{STEPS}/organisation", code="AAAAA-AAAAA", name="Fathom"
        )
        assert "not the code" in page.faults["code"]
        assert page.fields["name"] == "Fathom"
    answer = visitor.post(f"{STEPS}/organisation", code=code, name="Fathom")
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) >= 1


def test_who_left_before_writing_it_down_is_asked_again(
    empty: tuple[Desk, str],
) -> None:
    desk, code = empty
    visitor = desk.passer_by()
    give_code(visitor, code)
    typed = {"name": "Ada Wren", "sign_in": "wren"}
    visitor.post(f"{STEPS}/administrator", **typed, password=PASSWORD, again=PASSWORD)
    later = desk.passer_by()
    assert later.client.get(f"{STEPS}/authority").headers["Location"] == "/"
    page = later.follow(
        later.post("/account/sign-in", sign_in="wren", password=PASSWORD)
    )
    page = later.get("/start/")
    assert f"{STEPS}/authority" in page.links
    later.follow(later.post(f"{STEPS}/authority", written="y"))
    assert f"{STEPS}/authority" not in later.get("/start/").links


def test_where_there_are_people_nothing_is_asked(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    for path in (STEPS, *(f"{STEPS}/{n}" for n in ("organisation", "administrator"))):
        location = visitor.client.get(path).headers["Location"]
        assert location in ("/", STEPS), path
    token = visitor.get("/account/sign-in").fields["csrf_token"]
    for step in ("organisation", "administrator", "authority"):
        answer = visitor.client.post(f"{STEPS}/{step}", data={"csrf_token": token})
        assert answer.status_code == 303, step
        assert answer.headers["Location"] in ("/", STEPS), step
    assert visitor.get("/account/sign-in").status == 200
