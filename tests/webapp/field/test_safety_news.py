"""What a tablet hears of others: new acts, the server's time, and who else asked."""

from collections.abc import Callable
from typing import Any
from uuid import uuid4

from models.services.keeping.log import append_log
from tests.models.services.safety.acting import Acting
from tests.scenario import IR, LEAD, OFF_SITE, SECOND, TECHNICIAN
from tests.webapp.desk import Desk
from tests.webapp.field.test_field import a_reading, post, round_id

DeskAt = Callable[[str], Desk]


def test_a_stop_on_one_tablet_is_the_next_news_of_another(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        acting = Acting(work)
        crew, stop = acting.open_crew(), acting.act("stop", stop=str(uuid4()))
        round_id = work.round_id
    first, second = (desk.person(who).client for who in (TECHNICIAN, SECOND))
    where = f"/field/rounds/{round_id}"
    sent = post(first, f"{where}/entries", {"device": "t1", "entries": [crew, stop]})
    results = sent.get_json()["results"]
    assert [(one["status"], one["card"]) for one in results] == [("stored", None)] * 2

    def news(since: Any) -> dict[str, Any]:
        found = second.get(f"{where}/safety.json?since={since}&device=t2").get_json()
        assert set(found) == {"acts", "cursor", "now", "tablets"}
        return dict(found)

    assert [one["act"] for one in news(0)["acts"]] == ["open_crew", "stop"]
    assert [one["act"] for one in news(1)["acts"]] == ["stop"]
    last = news("2")
    assert (last["acts"], last["cursor"]) == ([], 2)
    assert [(one["device"], one["by"], one["seq"]) for one in last["tablets"]] == [
        ("t2", SECOND.name, 2)
    ]
    assert len(news("x")["acts"]) == 2
    document = second.get(f"{where}/document.json").get_json()
    assert document["safety"]["cursor"] == 2
    assert [one["act"] for one in document["safety"]["acts"]] == ["stop"]  # of March


def test_a_reading_on_one_tablet_is_the_next_news_of_another(desk_at: DeskAt) -> None:
    """And what a lead says of the card; where nothing is new nothing is read."""
    desk = desk_at("opened")
    entry = a_reading(desk)
    first, second = (desk.person(who).client for who in (TECHNICIAN, SECOND))
    where = f"/field/rounds/{round_id(desk)}"
    since = second.get(f"{where}/document.json").get_json()["cards_cursor"]

    def news(since: int) -> dict[str, Any]:
        asked = f"safety=99&cards={since}&device=t2"
        return dict(second.get(f"{where}/news.json?{asked}").get_json())

    assert (news(since)["cards"], news(since)["cards_cursor"]) == ([], since)
    body = {"device": "t1", "entries": [entry]}
    (answer,) = post(first, f"{where}/entries", body).get_json()["results"]
    found = news(since)
    assert found["cards"] == [answer["card"]]
    assert found["cards"][0]["rules"] and not found["renew"]
    assert news(found["cards_cursor"])["cards"] == []
    with desk.work() as work:
        work.withdraw("bus", IR)
    (card,) = news(found["cards_cursor"])["cards"]
    assert card["state"] == "withdrawn"
    with desk.work() as work:
        more = {"actor_id": LEAD.id, "action": "told", "body": {}, "now": work.at}
        append_log(work.session, subject=f"round {work.round_id}", **more)
    assert news(found["cards_cursor"])["renew"]


def test_news_are_for_those_who_see_the_round(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        path = f"/field/rounds/{work.round_id}/safety.json"
    assert desk.person(OFF_SITE).client.get(path).status_code == 404
    nobody = desk.passer_by().client.get(path, headers={"Accept": "application/json"})
    assert nobody.status_code == 401
