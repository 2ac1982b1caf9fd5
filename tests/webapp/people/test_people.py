"""The pages of the people, and the page that a link opens."""

import re
from collections.abc import Callable

import pytest

from models.services.people.enrolment import WHY_NOT
from tests.scenario import (
    ADMINISTRATOR,
    LEAD,
    OTHER_SITE,
    OWNER,
    OWNER_FIRM,
    SITE,
    TECHNICIAN,
    TEST_FIRM,
    fixed_id,
)
from tests.webapp.desk import Desk, Page, Visitor

NEW = "/people/new"
PERSON = f"/people/{TECHNICIAN.id}"
CHOSEN = "three terns on the mole"


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """The place, before any round."""
    return desk_at("place")


@pytest.fixture
def boss(desk: Desk) -> Visitor:
    """The administrator."""
    return desk.person(ADMINISTRATOR)


def link_on(page: Page) -> str:
    """Return the path of the link that a page shows."""
    found = re.search(
        r'id="link">http://localhost(/people/enrol/[\w-]{43})<', page.html
    )
    assert found, page.text
    return found[1]


def invite(boss: Visitor, **changes: str) -> Page:
    given = {
        "name": "Una Sanderling",
        "sign_in": "Sanderling",
        "organisation": str(fixed_id(TEST_FIRM)),
        "roles": "technician",
    }
    return Page(boss.post(NEW, **given | changes))


def test_from_the_invitation_to_the_first_sign_in(desk: Desk, boss: Visitor) -> None:
    shown = invite(boss)
    assert shown.headline == "Link for Una Sanderling"
    assert '<div class="qr-code" role="img"' in shown.html and "<path" in shown.html
    assert "style=" not in shown.html
    link = link_on(shown)
    listed = boss.get("/people/?words=sander").text
    assert "Has been invited and has not enrolled yet" in listed
    newcomer = desk.passer_by()
    page = newcomer.get(link)
    assert page.headline == "Welcome, Una Sanderling"
    assert ADMINISTRATOR.name in page.text
    assert page.fields["username"] == "sanderling"
    poor = {"una sanderling": "password", "short": "password", CHOSEN: "again"}
    for password, field in poor.items():
        again = password if field == "password" else "another"
        faults = newcomer.faulty(link, password=password, again=again).faults
        assert set(faults) == {field}
    home = newcomer.follow(newcomer.post(link, password=CHOSEN, again=CHOSEN))
    assert home.status in (200, 302)
    assert "Una Sanderling" in newcomer.get("/field/").text
    again = desk.passer_by()
    answer = again.post("/account/sign-in", sign_in="sanderling", password=CHOSEN)
    assert answer.status_code == 303
    used = again.get(link)
    assert (used.status, used.headline) == (410, "This link was used")


def test_links_that_cannot_be_used(desk: Desk, boss: Visitor) -> None:
    first = link_on(invite(boss))
    person = next(
        one for one in boss.get("/people/?words=sander").links if len(one) > 40
    )
    second = link_on(Page(boss.post(f"{person}/link", on=person)))
    guest = desk.passer_by()
    got = {}
    for state, link in (("withdrawn", first), ("unknown", "/people/enrol/mistyped")):
        page = guest.get(link)
        got[state] = (page.status, WHY_NOT[state] in page.text)
    assert got == {"withdrawn": (410, True), "unknown": (404, True)}
    shown = guest.client.get(second)
    assert shown.status_code == 200
    assert shown.headers["Referrer-Policy"] == "strict-origin"  # not the link
    withdraw = re.search(r'action="(/people/[^"]+/withdraw)"', boss.get(person).html)
    assert withdraw
    assert (
        "Withdraw this link" not in boss.follow(boss.post(withdraw[1], on=person)).text
    )
    assert guest.get(second).headline == "This link was withdrawn"


def test_what_is_wrong_stands_at_its_field(boss: Visitor) -> None:
    page = boss.faulty(
        NEW, name="", sign_in="x", organisation=str(fixed_id(OWNER_FIRM)), roles="lead"
    )
    assert set(page.faults) == {"name", "roles"}
    taken = invite(boss, sign_in=" TERN ")
    assert (taken.status, set(taken.faults)) == (422, {"sign_in"})
    assert taken.fields["name"] == "Una Sanderling"


def test_two_administrators_at_once(desk: Desk, boss: Visitor) -> None:
    seen = boss.get(PERSON).fields["version"]
    boss.follow(boss.post(f"{PERSON}/roles", on=PERSON, roles="lead", version=seen))
    late = Page(
        boss.post(f"{PERSON}/roles", on=PERSON, roles="administrator", version=seen)
    )
    assert late.status == 409
    assert "change roles, from technician to lead" in late.text
    assert late.chosen["roles"] == "administrator"  # what was typed stays
    again = boss.follow(
        boss.post(
            f"{PERSON}/roles",
            on=PERSON,
            roles="administrator",
            version=late.fields["version"],
        )
    )
    assert again.chosen["roles"] == "administrator"


def test_sites_are_assigned_and_ended(boss: Visitor) -> None:
    path = f"{PERSON}/sites"
    page = boss.faulty(path, on=PERSON, site="")
    assert set(page.faults) == {"site"}
    shown = boss.follow(
        boss.post(
            path, on=PERSON, site=str(fixed_id(OTHER_SITE)), from_day="2026-05-01"
        )
    )
    assert OTHER_SITE in shown.text and SITE in shown.text
    end = re.search(r'action="(/people/[^"]+/end)"', shown.html)
    assert end
    assert boss.faulty(end[1], on=PERSON, until_day="2020-01-01").status == 422
    ended = boss.follow(boss.post(end[1], on=PERSON, until_day="2026-05-02"))
    assert "2 May 2026" in ended.text
    owner = f"/people/{OWNER.id}"
    page = boss.faulty(f"{owner}/sites", on=owner, site=str(fixed_id(OTHER_SITE)))
    assert "They see the sites of" in page.text


def test_deactivating_asks_and_is_undone(desk: Desk, boss: Visitor) -> None:
    path = f"{PERSON}/active"
    technician = desk.person(TECHNICIAN)
    page = boss.get(path)
    assert "Deactivate Wren Tern" in page.headline
    version = page.fields["version"]
    assert set(boss.faulty(path, reason="", version=version).faults) == {"reason"}
    boss.follow(boss.post(path, reason="left the firm", version=version))
    assert technician.get("/field/").status in (302, 303)
    page = boss.get(path)
    version = page.fields["version"]
    assert page.headline == "Reactivate Wren Tern"
    boss.follow(boss.post(path, reason="came back", version=version))
    own = f"/people/{ADMINISTRATOR.id}/active"
    last = Page(boss.post(own, reason="leaves", version="1"))
    assert (last.status, "last administrator" in last.text) == (409, True)


@pytest.mark.parametrize("who", [LEAD, TECHNICIAN, OWNER], ids=lambda who: who.role)
def test_people_are_the_administrators(desk: Desk, who: object) -> None:
    visitor = desk.person(who)  # type: ignore[arg-type]
    for path in ("/people/", NEW, PERSON, f"{PERSON}/active"):
        assert visitor.get(path).status == 403
    assert desk.passer_by().get("/people/").status == 302
