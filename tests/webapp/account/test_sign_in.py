"""Signing in, signing out, changing a password."""

from collections.abc import Callable

import pytest

from models.services.people.passwords import SHORTEST
from tests.conftest import Stages
from tests.scenario import LEAD, OWNER, PASSWORD, SECRET, TECHNICIAN, Cast
from tests.webapp.desk import Desk
from webapp import create_app
from webapp.config import Config

DeskAt = Callable[[str], Desk]
NEW = "another-stripe-of-paint"

FIRST_PAGES = {
    "technician": (TECHNICIAN, "/field/"),
    "lead": (LEAD, "/turnover/"),
    "owner": (OWNER, "/owner/"),
}
CLOSED = ("/turnover/", "/owner/", "/field/", "/account/password")
SIGN_IN_FAULTS = {
    "nothing typed": ({"sign_in": "", "password": ""}, {"sign_in", "password"}),
    "no password": ({"sign_in": "heron", "password": ""}, {"password"}),
    "another's password": ({"sign_in": "heron", "password": "x" * 12}, {"password"}),
    "nobody's name": ({"sign_in": "phoenix", "password": PASSWORD}, {"password"}),
}
PASSWORD_FAULTS = {
    "the present one is wrong": (("x" * 12, NEW, NEW), {"old"}),
    "too short": ((PASSWORD, "x" * (SHORTEST - 1), "x" * (SHORTEST - 1)), {"new"}),
    "typed in two ways": ((PASSWORD, NEW, NEW[:-1]), {"again"}),
    "nothing typed": (("", "", ""), {"old", "new"}),
}


@pytest.mark.parametrize(("who", "path"), FIRST_PAGES.values(), ids=FIRST_PAGES)
def test_each_role_has_a_first_page(desk_at: DeskAt, who: Cast, path: str) -> None:
    answer = desk_at("place").person(who).client.get("/")
    assert answer.headers["Location"] == path


@pytest.mark.parametrize("path", CLOSED)
def test_who_is_not_signed_in_is_sent_to_sign_in(desk_at: DeskAt, path: str) -> None:
    answer = desk_at("place").passer_by().client.get(path)
    assert answer.status_code == 302
    assert answer.headers["Location"].startswith("/account/sign-in?next=")


def test_signing_in_leads_to_where_one_wanted_to_go(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    sent = visitor.client.get("/owner/").headers["Location"]
    page = visitor.get(sent)
    answer = visitor.post(
        "/account/sign-in",
        on=sent,
        next=page.fields["next"],
        sign_in=OWNER.sign_in,
        password=PASSWORD,
    )
    assert answer.headers["Location"] == "/owner/"


def test_signing_in_never_leads_elsewhere(desk_at: DeskAt) -> None:
    answer = (
        desk_at("place")
        .passer_by()
        .post(
            "/account/sign-in",
            next="//elsewhere.example/",
            sign_in=LEAD.sign_in,
            password=PASSWORD,
        )
    )
    assert answer.headers["Location"] == "/"


@pytest.mark.parametrize(
    ("typed", "places"), SIGN_IN_FAULTS.values(), ids=SIGN_IN_FAULTS
)
def test_what_is_wrong_with_a_sign_in_is_said_there(
    desk_at: DeskAt, typed: dict[str, str], places: set[str]
) -> None:
    page = desk_at("place").passer_by().faulty("/account/sign-in", **typed)
    assert set(page.faults) == places
    assert page.fields["sign_in"] == typed["sign_in"]
    assert page.fields["password"] == ""


def test_a_form_from_elsewhere_is_not_accepted(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    typed = {"sign_in": LEAD.sign_in, "password": PASSWORD}
    assert visitor.client.post("/account/sign-in", data=typed).status_code == 400


def test_signing_out_ends_the_session(desk_at: DeskAt) -> None:
    visitor = desk_at("place").person(LEAD)
    page = visitor.follow(visitor.post("/account/sign-out", on="/account/password"))
    assert "You are signed out" in page.text
    assert visitor.get("/turnover/").status == 302


def test_an_answer_on_its_way_does_not_bring_a_session_back(desk_at: DeskAt) -> None:
    """Tablets ask every 1.5 s: an answer that came after signing out set the cookie."""
    visitor = desk_at("place").person(LEAD)
    visitor.get("/account/password")
    for address in ("/favicon.ico", "/field/csrf.json", "/turnover/"):
        assert "Set-Cookie" not in visitor.client.get(address).headers


@pytest.mark.parametrize(
    ("ago_s", "status"), [(0, 200), (43_140, 200), (43_201, 302), (None, 302)]
)
def test_a_session_lasts_twelve_hours_however_often_it_is_used(
    desk_at: DeskAt, ago_s: int | None, status: int
) -> None:
    visitor = desk_at("place").person(LEAD)
    assert visitor.get("/turnover/").status == 200
    with visitor.client.session_transaction() as kept:
        began = kept.pop("began")
        if ago_s is not None:
            kept["began"] = began - ago_s
    assert visitor.get("/turnover/").status == status
    assert visitor.get("/turnover/").status == status


def test_signing_in_drops_what_the_session_held(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    visitor.get("/account/sign-in")
    with visitor.client.session_transaction() as kept:
        before = kept["csrf_token"]
        kept["planted"] = "by somebody else"
    answer = visitor.post("/account/sign-in", sign_in=LEAD.sign_in, password=PASSWORD)
    assert answer.status_code == 303
    visitor.get("/account/password")
    with visitor.client.session_transaction() as kept:
        assert "planted" not in kept
        assert kept["csrf_token"] != before


COOKIES = {
    "plain": (False, "witnessmark=", False),
    "over TLS": (True, "__Host-witnessmark=", True),
}


@pytest.mark.parametrize(("https", "name", "secure"), COOKIES.values(), ids=COOKIES)
def test_what_the_cookie_says_of_itself(
    sqlite_stages: Stages, *, https: bool, name: str, secure: bool
) -> None:
    url = sqlite_stages.url("place")
    app = create_app(Config(database=url, secret=SECRET, https=https, testing=True))
    answer = app.test_client().get("/account/sign-in")
    (cookie,) = answer.headers.getlist("Set-Cookie")
    assert cookie.startswith(name)
    parts = {part.strip() for part in cookie.split(";")[1:]}
    assert {"HttpOnly", "Path=/", "SameSite=Lax"} <= parts
    assert ("Secure" in parts) is secure
    assert not any(part.startswith("Domain") for part in parts)
    app.extensions["engine"].dispose()


def test_the_theme_can_be_chosen_before_signing_in(desk_at: DeskAt) -> None:
    html = desk_at("place").passer_by().get("/account/sign-in").html
    assert html.count("data-set-theme=") == 3


@pytest.mark.parametrize(
    ("typed", "places"), PASSWORD_FAULTS.values(), ids=PASSWORD_FAULTS
)
def test_what_is_wrong_with_a_new_password_is_said_there(
    desk_at: DeskAt, typed: tuple[str, str, str], places: set[str]
) -> None:
    desk = desk_at("place")
    old, new, again = typed
    page = desk.person(LEAD).faulty("/account/password", old=old, new=new, again=again)
    assert set(page.faults) == places
    desk.person(LEAD)  # the password is still the old one


def test_a_new_password_ends_the_other_sessions_and_opens_the_key(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("complete")
    here, elsewhere = desk.person(TECHNICIAN), desk.person(TECHNICIAN)
    here.follow(here.post("/account/password", old=PASSWORD, new=NEW, again=NEW))
    assert here.client.get("/turnover/").status_code == 200
    assert elsewhere.client.get("/turnover/").status_code == 302
    with desk.work() as work:
        package = f"/turnover/rounds/{work.round_id}/package"
    page = here.faulty(f"{package}/performed", on=package, password=PASSWORD)
    assert "does not open your key" in page.faults["password"]
    here.follow(here.post(f"{package}/performed", on=package, password=NEW))
