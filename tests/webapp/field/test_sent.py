"""What a tablet never sends, and somebody else may."""

from collections.abc import Callable

import pytest

from tests.scenario import TECHNICIAN
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]

# What came as JSON -> the field at which it is refused, for entries and signatures.
BODIES: dict[str, tuple[bytes, str, str]] = {
    "nothing": (b"", "entries", "card_ids"),
    "a list without end": (b"[" * 90_000, "entries", "card_ids"),
    "an object without end": (b'{"a":' * 90_000, "entries", "card_ids"),
    "no UTF-8": (b'{"device": "\xff"}', "entries", "card_ids"),
    "a number without end": (b"9" * 9_000, "entries", "card_ids"),
    "a zero byte in the tablet's name": (
        b'{"device": "t\\u0000", "entries": [], "card_ids": 1}',
        "device",
        "card_ids",
    ),
    "half of a pair in the tablet's name": (
        b'{"device": "t\\ud83d", "entries": [], "card_ids": [NaN], "password": "x"}',
        "device",
        "card_ids",
    ),
}


@pytest.mark.parametrize(("body", "entries", "signing"), BODIES.values(), ids=BODIES)
def test_what_cannot_be_read_or_kept_is_refused(
    desk_at: DeskAt, body: bytes, entries: str, signing: str
) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        path = f"/field/rounds/{work.round_id}"
    client = desk.person(TECHNICIAN).client
    token = client.get("/field/csrf.json").get_json()["token"]
    headers = {"X-CSRFToken": token, "Accept": "application/json"}
    for place, field in (("entries", entries), ("signatures", signing)):
        answer = client.post(
            f"{path}/{place}",
            data=body,
            content_type="application/json",
            headers=headers,
        )
        assert answer.status_code == 422, place
        assert [f["field"] for f in answer.get_json()["faults"]] == [field]
