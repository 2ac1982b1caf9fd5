"""Every place where a password is typed counts the tries, and says how long to wait."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from werkzeug.test import TestResponse

import webapp
from models.services.people.throttle import FREE
from tests.conftest import Stages
from tests.scenario import IR, LEAD, PASSWORD, SECOND, SECRET, TECHNICIAN
from tests.webapp.desk import Desk, Page, Visitor
from webapp import create_app
from webapp.config import Config, SettingError, load_config
from webapp.guessing import asking_address

DeskAt = Callable[[str], Desk]
WRONG = "x" * 12
SIGN_IN = "/account/sign-in"


def try_sign_in(visitor: Visitor, password: str) -> TestResponse:
    return visitor.post(SIGN_IN, sign_in="heron", password=password)


def wait_of(answer: TestResponse) -> int:
    """Return the seconds to wait, as the page and the header say."""
    assert answer.status_code == 429
    seconds = int(answer.headers["Retry-After"])
    assert f"wait {seconds} second" in answer.get_data(as_text=True)
    return seconds


def test_the_sign_in_form_says_how_long_to_wait(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    for _ in range(FREE):
        assert try_sign_in(visitor, WRONG).status_code == 422
    answer = try_sign_in(visitor, PASSWORD)
    assert 1 <= wait_of(answer) <= 2
    page = Page(answer)
    assert set(page.faults) == {"password"}
    assert page.fields["sign_in"] == "heron"


def test_a_name_that_nobody_has_is_answered_alike(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    found = [
        visitor.post(SIGN_IN, sign_in="phoenix", password=WRONG).status_code
        for _ in range(FREE + 1)
    ]
    assert found == [422] * FREE + [429]


def test_who_signed_in_from_this_browser_before_is_not_kept_out(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("place")
    lead, thief = desk.person(LEAD), desk.passer_by()
    lead.post("/account/sign-out", on="/account/password")
    for _ in range(FREE):
        try_sign_in(thief, WRONG)
    assert wait_of(try_sign_in(thief, PASSWORD))
    assert try_sign_in(lead, PASSWORD).status_code == 303
    other = desk.passer_by()  # another name, at the same address
    assert other.post(SIGN_IN, sign_in="tern", password=PASSWORD).status_code == 303


def test_a_cookie_made_elsewhere_is_not_believed(desk_at: DeskAt) -> None:
    visitor = desk_at("place").passer_by()
    visitor.client.set_cookie("witnessmark-browser", "eyJpZCI6ICJ4In0.made-up")
    assert try_sign_in(visitor, WRONG).status_code == 422


def test_the_signing_form_of_the_tablet(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.fill("breaker 52", IR, sign=False)
        card_id = str(work.card("breaker 52", IR).id)
        address = f"/field/rounds/{work.round_id}/signatures"
    tablet, other = desk.person(TECHNICIAN), desk.person(TECHNICIAN)

    def sign(visitor: Visitor, password: str) -> TestResponse:
        token = visitor.client.get("/field/csrf.json").get_json()["token"]
        body = {"card_ids": [card_id], "password": password}
        return visitor.client.post(address, json=body, headers={"X-CSRFToken": token})

    for _ in range(FREE):
        assert sign(tablet, WRONG).status_code == 422
    answer = sign(tablet, PASSWORD)
    assert wait_of(answer)
    assert answer.get_json()["faults"][0]["field"] == "password"
    desk.person(SECOND)  # of the same office
    assert sign(other, PASSWORD).status_code == 200  # the same person elsewhere


def test_changing_a_password(desk_at: DeskAt) -> None:
    visitor = desk_at("place").person(LEAD)
    typed = {"new": "another-stripe", "again": "another-stripe"}
    for _ in range(2 * FREE):  # too short: the present one is not looked at
        visitor.faulty("/account/password", old=WRONG, new="short", again="short")
    for _ in range(FREE):
        page = visitor.faulty("/account/password", old=WRONG, **typed)
        assert "not your present password" in page.faults["old"]
    answer = visitor.post("/account/password", old=PASSWORD, **typed)
    assert wait_of(answer)
    assert set(Page(answer).faults) == {"old"}


def test_signing_the_package(desk_at: DeskAt) -> None:
    desk = desk_at("complete")
    with desk.work() as work:
        address = f"/turnover/rounds/{work.round_id}/package"
    visitor = desk.person(TECHNICIAN)
    for _ in range(FREE):
        visitor.faulty(f"{address}/performed", on=address, password=WRONG)
    for _ in range(5):  # the first wait is 2 s, and a busy machine is slower than that
        answer = visitor.post(f"{address}/performed", on=address, password=WRONG)
        if answer.status_code != 422:
            break
    assert wait_of(answer)


COUNTED = re.compile(r"counted_(try|try_if_typed|code)\(")
TYPED = re.compile(r"password=|\bpassword\b.*= .*\bform\b")


def test_no_handler_takes_a_password_without_counting() -> None:
    root = Path(webapp.__file__).parent
    found = [
        path
        for path in root.rglob("*routes*.py")
        if TYPED.search(path.read_text("utf-8"))
    ]
    assert len(found) >= 6
    assert [p for p in found if not COUNTED.search(p.read_text("utf-8"))] == []


# the setting, the address of the connection, X-Forwarded-For -> counted under
ADDRESSES = {
    "no proxy": ("", "198.51.100.7", None, "198.51.100.7"),
    "no proxy is named: what is sent is a claim": (
        "",
        "198.51.100.7",
        "203.0.113.5",
        "198.51.100.7",
    ),
    "the proxy says who asks": ("127.0.0.1", "127.0.0.1", "203.0.113.5", "203.0.113.5"),
    "the last entry is the proxy's own": (
        "127.0.0.1",
        "127.0.0.1",
        "192.0.2.1, 203.0.113.5",
        "203.0.113.5",
    ),
    "past the proxy": ("127.0.0.1", "198.51.100.7", "203.0.113.5", "198.51.100.7"),
    "the proxy says nothing": ("127.0.0.1", "127.0.0.1", None, "127.0.0.1"),
    "a network of 64 bits": (
        "",
        "2001:db8:1:2:3:4:5:6",
        None,
        "2001:0db8:0001:0002",
    ),
    "the older kind written as the newer": (
        "",
        "::ffff:198.51.100.7",
        None,
        "198.51.100.7",
    ),
}


@pytest.mark.parametrize(
    ("proxy", "address", "sent", "counted"), ADDRESSES.values(), ids=ADDRESSES
)
def test_behind_a_proxy(
    sqlite_stages: Stages, proxy: str, address: str, sent: str | None, counted: str
) -> None:
    url = sqlite_stages.url("place")
    app = create_app(Config(database=url, secret=SECRET, proxy=proxy, testing=True))
    with app.test_request_context(
        environ_base={"REMOTE_ADDR": address},
        headers={"X-Forwarded-For": sent} if sent else {},
    ):
        assert asking_address() == counted
    app.extensions["engine"].dispose()


def test_a_proxy_is_named_by_its_address(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("WITNESSMARK_PROXY", "127.0.0.1")
    assert load_config().proxy == "127.0.0.1"
    monkeypatch.setenv("WITNESSMARK_PROXY", "yes")
    with pytest.raises(SettingError, match="WITNESSMARK_PROXY is 'yes'"):
        load_config()
