"""Photographs that a tablet sends in parts: cut, repeated, wrong, of somebody else."""

import hashlib
import io
import json
import os
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from flask.testing import FlaskClient
from PIL import Image
from sqlalchemy import select
from werkzeug.test import TestResponse

from models.files.parts import PartsFolder
from models.schema import Attachment, Deficiency, LogEntry
from models.services.turnover.package import draft_document
from tests.scenario import CR, LEAD, SECOND, TECHNICIAN
from tests.webapp.desk import Desk
from tests.webapp.field.test_field import faults_of, post, round_id

DeskAt = Callable[[str], Desk]
TAKEN = "2026-02-01T08:30:00+01:00"
PART = 256 * 1024


def picture(seed: int = 1, size: int | tuple[int, int] = 600) -> bytes:
    """Return a JPEG of noise with a place in its metadata, of some hundred kB."""
    width, height = (size, size) if isinstance(size, int) else size
    noise = _noise(seed, width * height * 3)
    image = Image.frombytes("RGB", (width, height), noise)
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (47.0, 22.0, 30.0), 3: "E", 4: (8.0, 32.0, 0.0)}
    target = io.BytesIO()
    image.save(target, "JPEG", quality=92, exif=exif)
    return target.getvalue()


def _noise(seed: int, size: int) -> bytes:
    return hashlib.shake_256(bytes([seed])).digest(size)


class Sending:
    """A person's tablet that sends one photograph of a card."""

    def __init__(self, desk: Desk, who: Any = TECHNICIAN, **said: Any) -> None:
        self.client: FlaskClient = desk.person(who).client
        self.content: bytes = said.pop("content", None) or picture()
        with desk.work() as work:
            card = work.card("breaker 52", CR)
            card_id, self.point = card.id, card.points[0]
            self.label = self.point.label
        self.round = round_id(desk)
        self.said = {
            "photo": str(uuid4()),
            "card_id": str(card_id),
            "point_id": str(self.point.id),
            "at": TAKEN,
            "size": len(self.content),
            "digest": hashlib.sha256(self.content).hexdigest(),
            "name": "pole A.jpg",
            "note": "burn mark",
            "marks": [
                {"kind": "arrow", "from": [100, 100], "to": [500, 480]},
                {"kind": "text", "at": [510, 490], "text": "here"},
            ],
            **said,
        }

    def announce(self, **said: Any) -> TestResponse:
        path = f"/field/rounds/{self.round}/photos"
        return post(self.client, path, {**self.said, **said})

    def put(self, start: int, end: int) -> TestResponse:
        token = self.client.get("/field/csrf.json").get_json()["token"]
        return self.client.post(
            f"/field/photos/{self.said['photo']}?from={start}",
            data=self.content[start:end],
            headers={"X-CSRFToken": token, "Accept": "application/json"},
            content_type="application/octet-stream",
        )

    def send(self) -> TestResponse:
        """Send what is missing, in order; return the last answer."""
        answer = self.announce()
        while answer.status_code == 200 and not answer.get_json()["complete"]:
            start = answer.get_json()["received"]
            answer = self.put(start, start + PART)
        return answer


@pytest.fixture
def desk(desk_at: DeskAt) -> Iterator[Desk]:
    return desk_at("opened")  # type: ignore[return-value]


def on_record(desk: Desk, sending: Sending) -> Attachment | None:
    with desk.work() as work:
        return work.session.get(Attachment, UUID(sending.said["photo"]))


def parts_of(desk: Desk, *sent: Sending) -> list[Path]:
    found: PartsFolder = desk.app.extensions["file parts"]
    return [p for one in sent for p in found.folder.glob(f"{one.said['photo']}.*")]


def test_a_photograph_arrives_however_it_is_cut(desk: Desk) -> None:
    sending = Sending(desk)
    size = len(sending.content)
    assert size > 2 * 100_000
    assert sending.announce().get_json() == {"received": 0, "complete": False}
    steps = [
        (0, 70_000, 70_000),
        (90_000, 100_000, 70_000),  # behind a gap: not kept
        (0, 70_000, 70_000),  # again
        (50_000, 90_001, 90_001),  # overlapping
    ]
    for start, end, then in steps:
        assert sending.put(start, end).get_json()["received"] == then
    # An answer was lost, the program begun anew: it goes on from where it was.
    assert sending.announce().get_json()["received"] == 90_001
    assert sending.send().get_json() == {"received": size, "complete": True}
    assert sending.announce().get_json() == {"received": size, "complete": True}
    assert parts_of(desk, sending) == []
    with desk.work() as work:
        found = work.session.get_one(Attachment, UUID(sending.said["photo"]))
        assert found.by_id == TECHNICIAN.id
        assert found.sent_digest == sending.said["digest"]
        assert found.name == "pole A.jpg"
        assert found.note == (
            f"burn mark · {sending.label} · taken 2026-02-01 20:30 +1300 · "
            "drawn on it: 1 arrow, “here”"
        )
        logged = json.loads(
            work.session.scalars(
                select(LogEntry.body).where(LogEntry.action == "attach file")
            ).one()
        )
        assert logged["photograph"]["marks"] == sending.said["marks"]
        assert logged["photograph"]["at"].startswith("2026-02-01T07:30")
    kept = sending.client.get(f"/files/{sending.said['photo']}").data
    with Image.open(io.BytesIO(sending.content)) as before:
        assert before.getexif().get_ifd(0x8825)
    with Image.open(io.BytesIO(kept)) as after:
        assert not after.getexif()
    path = f"/field/rounds/{sending.round}/document.json"
    cards = sending.client.get(path).get_json()["cards"]
    [card] = [one for one in cards if one["id"] == sending.said["card_id"]]
    assert [(one["id"], one["by"]) for one in card["attachments"]] == [
        (sending.said["photo"], TECHNICIAN.name)
    ]


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"photo": "7"}, "key"),
        ({"card_id": None}, "card_id"),
        ({"at": "yesterday"}, "at"),
        ({"size": 0}, "size"),
        ({"size": 50_000_000}, "file"),
        ({"digest": "7f"}, "digest"),
        ({"note": "x" * 501}, "note"),
        ({"marks": [{"kind": "arrow", "from": [0, 0], "to": [0, 1001]}]}, "marks"),
        ({"marks": [{"kind": "circle"}]}, "marks"),
        ({"place": "here"}, "place"),
        ({"place": {"latitude": "90.1", "longitude": "8.0"}}, "place"),
        ({"place": {"latitude": 47.0, "longitude": "8.0"}}, "place"),
        ({"place": {"latitude": "47", "longitude": "8.0"}}, "place"),
        ({"original_of": 7}, "original_of"),
    ],
)
def test_what_is_announced_wrongly_is_refused(
    desk_at: DeskAt, said: dict[str, Any], field: str
) -> None:
    answer = Sending(desk_at("opened")).announce(**said)
    assert answer.status_code == 422
    assert field in faults_of(answer)


def test_what_is_no_photograph_or_another_file_is_refused(desk: Desk) -> None:
    text = Sending(desk, content=b"a;b\n1;2\n")
    answer = text.send()
    assert answer.status_code == 422
    assert "no photograph" in faults_of(answer)["file"]
    cut = Sending(desk, content=picture()[:50_000])
    assert "cannot be opened" in faults_of(cut.send())["file"]
    wrong = Sending(desk, digest="0" * 64)
    assert "sent again" in faults_of(wrong.send())["digest"]
    assert parts_of(desk, text, cut, wrong) == []
    assert wrong.put(0, 10).status_code == 404  # to be announced again
    long = Sending(desk, size=10)
    long.announce()
    assert long.put(0, 20).status_code == 422
    assert on_record(desk, text) is on_record(desk, wrong) is None


def test_nobody_sends_the_photograph_of_another(desk: Desk) -> None:
    mine = Sending(desk)
    mine.announce()
    theirs = Sending(desk, SECOND, photo=mine.said["photo"], content=picture(2))
    assert theirs.announce().status_code == 403
    assert theirs.put(0, 10).status_code == 403
    other = mine.announce(person=str(SECOND.id))
    assert (other.status_code, other.get_json()["state"]) == (401, "sign-in")
    assert mine.send().get_json()["complete"]
    assert theirs.announce().status_code == 403
    clash = mine.announce(digest="0" * 64)
    assert clash.status_code == 409
    assert "on record under this one's identifier" in faults_of(clash)[""]


def test_two_pages_that_send_one_photograph_make_one(desk: Desk) -> None:
    sending = Sending(desk)
    again = Sending(desk, photo=sending.said["photo"])
    with ThreadPoolExecutor(2) as both:
        answers = list(both.map(lambda one: one.send(), (sending, again)))
    # Who comes second may find the parts gone; asked again, it is on record.
    assert any(a.status_code == 200 and a.get_json()["complete"] for a in answers)
    assert again.announce().get_json()["complete"]
    with desk.work() as work:
        assert len(list(work.session.scalars(select(Attachment)))) == 1


def test_a_photograph_follows_a_signature_but_no_turnover(desk_at: DeskAt) -> None:
    signed, over = Sending(desk_at("complete")), Sending(desk_at("accepted"))
    assert signed.send().get_json()["complete"]
    answer = over.announce()
    assert answer.status_code == 409


def test_what_nobody_goes_on_with_for_30_days_is_cleared(desk: Desk) -> None:
    left, lately = Sending(desk), Sending(desk, content=picture(2))
    left.announce()
    lately.announce()
    left.put(0, 10)
    for place in parts_of(desk, left):
        os.utime(place, (0, time.time() - 31 * 24 * 3600))
    assert lately.announce().status_code == 200
    assert parts_of(desk, left) == []
    assert len(parts_of(desk, lately)) == 2


def test_a_place_that_is_wanted_is_data_beside_the_picture(desk: Desk) -> None:
    place = {"latitude": "47.37500", "longitude": "-8.53333"}
    wanted, unwanted = Sending(desk, place=place), Sending(desk, content=picture(2))
    assert wanted.send().get_json()["complete"]
    assert unwanted.send().get_json()["complete"]
    notes = [one.note for one in (on_record(desk, wanted), on_record(desk, unwanted))]  # type: ignore[union-attr]
    assert "taken 2026-02-01 20:30 +1300 · at 47.37500° N, 8.53333° W · dr" in notes[0]
    assert "47.3" not in notes[1]
    with desk.work() as work:
        asked = select(LogEntry.body).where(LogEntry.action == "attach file")
        logged = [
            json.loads(body)["photograph"] for body in work.session.scalars(asked)
        ]
    assert [one.get("place") for one in logged] == [place, None]
    kept = wanted.client.get(f"/files/{wanted.said['photo']}").data
    with Image.open(io.BytesIO(kept)) as after:
        assert not after.getexif()


def test_an_original_follows_its_photograph_in_its_own_pixels(desk: Desk) -> None:
    scaled = Sending(desk)
    large = picture(3, (3300, 40))  # wider than any other picture is kept
    said = {"original_of": scaled.said["photo"], "name": "pole A original.jpg"}
    original = Sending(desk, content=large, marks=[], note="", point_id=None, **said)
    assert original.announce().status_code == 409  # its photograph goes first
    assert scaled.send().get_json()["complete"]
    assert original.send().get_json()["complete"]
    found = on_record(desk, original)
    assert found is not None
    assert found.note == "original of pole A.jpg · taken 2026-02-01 20:30 +1300"
    kept = original.client.get(f"/files/{original.said['photo']}").data
    with Image.open(io.BytesIO(large)) as old, Image.open(io.BytesIO(kept)) as new:
        assert new.size == (3300, 40)
        assert not new.getexif()
        assert old.tobytes() == new.tobytes()
    cut = Sending(desk, content=large[:9_000], **said)
    assert cut.send().status_code == 422
    typed = Sending(desk, content=picture(6), note="original of the pole")
    assert typed.send().get_json()["complete"]
    files = files_of_the_package(desk)
    assert [(one["id"], one.get("original_of")) for one in files] == [
        (scaled.said["photo"], None),
        (original.said["photo"], scaled.said["photo"]),
        (typed.said["photo"], None),  # as somebody's words say, which prove nothing
    ]


def files_of_the_package(desk: Desk) -> list[dict[str, Any]]:
    with desk.work() as work:
        found: list[dict[str, Any]] = draft_document(
            work.session,
            person_id=LEAD.id,
            round_id=work.round_id,
            now=datetime.now(UTC),
        )["files"]
        return found


def test_a_photograph_of_a_deficiency_stands_beside_it(desk: Desk) -> None:
    about = a_deficiency(desk)
    sending = Sending(desk, deficiency_id=about, point_id=None)
    original = Sending(
        desk, content=picture(4), original_of=sending.said["photo"], marks=[]
    )
    elsewhere = Sending(desk, content=picture(5), deficiency_id=str(uuid4()))
    for one in (sending, original, elsewhere):
        assert one.send().get_json()["complete"]
        assert one.announce().get_json()["complete"]  # known
    found = on_record(desk, sending)
    assert found is not None
    assert (found.subject, str(found.subject_id)) == ("deficiency", about)
    assert "burn mark · D-001 · taken" in found.note
    path = f"/field/rounds/{sending.round}/document.json"
    cards = sending.client.get(path).get_json()["cards"]
    [card] = [one for one in cards if one["id"] == sending.said["card_id"]]
    shown = {one["id"]: one["deficiency_id"] for one in card["attachments"]}
    assert shown == {
        sending.said["photo"]: about,
        original.said["photo"]: about,
        elsewhere.said["photo"]: None,
    }
    page = desk.person(LEAD).client.get(f"/turnover/deficiencies/{about}")
    assert f"/files/{sending.said['photo']}" in page.get_data(as_text=True)


def a_deficiency(desk: Desk) -> str:
    """Raise a deficiency on the card that photographs are sent of; return its id."""
    sending = Sending(desk)
    entry = {
        "key": str(uuid4()),
        "kind": "deficiency",
        "card_id": sending.said["card_id"],
        "at": TAKEN,
        "text": "Burn mark on the left side.",
        "severity": "may_follow",
        "holder": "Fathom Line",
        "reading_id": None,
    }
    path = f"/field/rounds/{sending.round}/entries"
    answer = post(sending.client, path, {"device": "tablet", "entries": [entry]})
    assert answer.get_json()["results"][0]["status"] == "stored", answer.get_json()
    with desk.work() as work:
        return str(work.session.scalars(select(Deficiency.id)).one())
