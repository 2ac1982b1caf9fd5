"""A tablet says that it is here, takes a round along, and tells what is unsent."""

from base64 import urlsafe_b64decode
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

from flask.testing import FlaskClient
from sqlalchemy import select

from models.schema import LogEntry, TabletAct, TabletRound, TabletShare
from tests.scenario import LEAD, OFF_SITE, SECOND, TECHNICIAN
from tests.webapp.desk import Desk
from tests.webapp.field.test_field import post, round_id

DeskAt = Callable[[str], Desk]
TABLET = uuid4()


def here(client: FlaskClient, tablet: UUID = TABLET, **fields: Any) -> Any:
    """Say that the tablet is here."""
    body = {"tablet": str(tablet), "label": "tablet 7f3a", "program": "4a1", **fields}
    return post(client, "/field/tablets", {"browser": "one of 2026", **body})


def test_each_person_has_a_share_of_their_own_on_each_tablet(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    first, second = (desk.person(who).client for who in (TECHNICIAN, SECOND))
    answer = here(first).get_json()
    assert answer["person"]["name"] == TECHNICIAN.name
    assert answer["person"]["roles"] == ["technician"]
    assert answer["tablet"] == {
        "id": str(TABLET),
        "label": "tablet 7f3a",
        "revoked": False,
    }
    share = urlsafe_b64decode(answer["share"] + "=")
    assert len(share) == 32
    assert (
        here(first, label="tablet in the office").get_json()
        | {
            "now": answer["now"],
            "tablet": answer["tablet"],
        }
        == answer
    )
    others = {
        here(second).get_json()["share"],
        here(first, uuid4()).get_json()["share"],
    }
    assert len(others | {answer["share"]}) == 3
    with desk.work() as work:
        told = str(list(work.session.scalars(select(LogEntry.body))))
        shares = list(work.session.scalars(select(TabletShare.share)))
    assert len(shares) == 3 and share in shares
    assert not any(one.hex() in told or answer["share"] in told for one in shares)


def test_a_tablet_that_was_revoked_gets_no_share(desk_at: DeskAt) -> None:
    """Nor is anything noted of what it holds; a release since changes neither."""
    desk = desk_at("opened")
    client = desk.person(TECHNICIAN).client
    where, said = f"/field/rounds/{round_id(desk)}", {"tablet": str(TABLET)}
    here(client)
    post(client, f"{where}/taken", said)
    with desk.work() as work:
        work.session.add_all(
            TabletAct(
                id=uuid4(),
                tablet_id=TABLET,
                round_id=of_round,
                act=act,
                reason=reason,
                by_id=LEAD.id,
                at=work.at + timedelta(minutes=minutes),
            )
            for minutes, act, of_round, reason in (
                (0, "revoke", None, "Left on the ferry."),
                (1, "release", work.round_id, "It does not come back."),
            )
        )
    answers = [here(client)] + [
        post(client, f"{where}/{act}", {**said, "entries": 3})
        for act in ("taken", "told", "given-back")
    ]
    for answer in answers:
        assert answer.status_code == 403
        assert "Left on the ferry." in answer.get_data(as_text=True)
        assert answer.get_json()["state"] == "revoked"
        assert "share" not in answer.get_json()
    with desk.work() as work:
        (held,) = work.session.scalars(select(TabletRound))
        assert held.entries == 0 and held.given_back_at is None


def test_a_round_is_taken_along_told_about_and_given_back(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    client = desk.person(TECHNICIAN).client
    where = f"/field/rounds/{round_id(desk)}"
    said = {"tablet": str(TABLET)}
    unknown = post(client, f"{where}/taken", said)
    assert unknown.status_code == 404
    here(client)
    assert post(client, f"{where}/told", {**said, "entries": 3}).status_code == 200
    taken = {**said, "taken_at": "2026-01-05T08:00:00+00:00"}
    assert post(client, f"{where}/taken", taken).status_code == 200
    left = {"entries": 3, "photos": 1, "oldest_at": "2026-01-05T10:42:00+01:00"}
    assert post(client, f"{where}/told", {**said, **left}).status_code == 200
    with desk.work() as work:
        (held,) = work.session.scalars(select(TabletRound))
        assert (held.entries, held.photos, held.intents) == (3, 1, 0)
        assert held.oldest_at is not None and held.oldest_at.hour == 9
        assert held.taken_at.isoformat() == "2026-01-05T08:00:00+00:00"
    refused = post(client, f"{where}/given-back", said)
    assert refused.status_code == 422 and "4 unsent" in refused.get_data(as_text=True)
    post(client, f"{where}/told", {**said, "entries": 0, "photos": 0})
    assert post(client, f"{where}/given-back", said).status_code == 200
    with desk.work() as work:
        (held,) = work.session.scalars(select(TabletRound))
        assert held.given_back_at is not None


def test_what_is_no_tablet_and_no_count_is_refused(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    client = desk.person(TECHNICIAN).client
    where = f"/field/rounds/{round_id(desk)}"
    assert here(client, label=7).status_code == 422
    assert post(client, "/field/tablets", []).status_code == 422
    assert post(client, "/field/tablets", {"tablet": "7f3a"}).status_code == 422
    here(client)
    said = {"tablet": str(TABLET)}
    post(client, f"{where}/taken", said)
    for left in ({"entries": -1}, {"photos": "1"}, {"oldest_at": "10:42"}):
        assert post(client, f"{where}/told", {**said, **left}).status_code == 422
    stranger = desk.person(OFF_SITE).client
    here(stranger)
    assert post(stranger, f"{where}/taken", said).status_code == 404
    assert desk.passer_by().client.get("/field/tablets").status_code in (302, 401, 405)
