"""A file that a tablet carried off is taken in, once, as its author's."""

import json
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Callable
from hashlib import sha256
from io import BytesIO
from typing import Any
from uuid import uuid4

from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from PIL import Image
from sqlalchemy import select

from models.schema import Attachment, LogEntry, Person, Reading
from models.services.keeping.check_files import check_files
from models.services.keeping.check_record import check_record
from tests.scenario import CR, LEAD, SECOND, TECHNICIAN
from tests.webapp.desk import Desk, Page, Visitor
from tests.webapp.field.test_field import a_reading, round_id
from tests.webapp.field.test_photographs import picture
from tests.webapp.field.test_tablets import TABLET, here
from tests.webapp.turnover.test_tablets import decide
from webapp.file_store import LARGEST_CARRIED

DeskAt = Callable[[str], Desk]
KEY = bytes(range(32))  # of the author on this tablet


def sealed(key: bytes, plain: bytes, bound_to: str) -> dict[str, str]:
    """Return what WebCrypto would write."""
    iv = uuid4().bytes[:12]
    data = AESGCM(key).encrypt(iv, plain, bound_to.encode())
    named = {"iv": iv, "data": data}
    return {n: urlsafe_b64encode(v).decode().rstrip("=") for n, v in named.items()}


def carried_off(
    desk: Desk, entry: dict[str, Any], kind: str = "outbox"
) -> dict[str, Any]:
    """Return the file of a tablet with one reading, kept there as of this kind."""
    share = here(desk.person(TECHNICIAN).client).get_json()["share"]
    of = f"{round_id(desk)}/{kind}:{entry['key']}"
    plain = json.dumps({"order": 1, "entry": entry}).encode()
    bound = f"{TABLET}/{TECHNICIAN.id}"
    return {
        "format": "witnessmark-unsent-1",
        "tablet": str(TABLET),
        "device": "tablet 7f3a",
        "person": {"id": str(TECHNICIAN.id), "name": TECHNICIAN.name},
        "by_server": sealed(urlsafe_b64decode(share + "="), KEY, bound),
        "rounds": [
            {
                "round": str(round_id(desk)),
                "label": None,
                "entries": [{"id": of, "sealed": sealed(KEY, plain, of)}],
                "photos": [],
            }
        ],
    }


def look(who: Visitor, data: bytes) -> Page:
    fields = {**form(who), "file": (BytesIO(data), "unsent.json")}
    answer = who.client.post("/turnover/tablets/file", data=fields)
    # Of a large body the test client makes a temporary file, and leaves it open.
    answer.request.environ["wsgi.input"].close()
    return Page(answer)


def take(who: Visitor, shown: Page) -> Page:
    """Take in the file that a page shows."""
    fields = {**form(who), "held": shown.fields.get("held", "")}
    return Page(who.client.post("/turnover/tablets/file/take", data=fields))


def form(who: Visitor) -> dict[str, Any]:
    token = who.client.get("/field/csrf.json").get_json()["token"]
    return {"csrf_token": token}


def photo(
    desk: Desk, content: bytes, seal: Callable[..., Any] = sealed, **said: Any
) -> dict[str, Any]:
    """Return a photograph of the file: what is said of it, and the picture, sealed."""
    key = str(uuid4())
    with desk.work() as work:
        card = work.card("breaker 52", CR)
        told = {
            "card": str(card.id),
            "at": "2026-02-01T08:30:00+01:00",
            "name": f"pole {key[:4]}.jpg",
            "note": "burn mark",
            "marks": [],
            "point_id": None,
            "deficiency_id": None,
            "digest": sha256(content).hexdigest(),
            "why": "",
            **said,
        }
    return {
        "id": key,
        "at": told["at"],
        "size": len(content),
        "meta": seal(KEY, json.dumps(told).encode(), f"{key}/meta"),
        "image": seal(KEY, content, f"{key}/image"),
    }


def unsealed_photo(_key: bytes, plain: bytes, _bound_to: str) -> str:
    return urlsafe_b64encode(plain).decode().rstrip("=")


def test_it_is_taken_in_as_the_authors_though_they_left_and_it_was_revoked(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    file = carried_off(desk, entry)
    file["rounds"][0]["photos"] = [photo(desk, picture(1))]
    data = json.dumps(file).encode()
    with desk.work() as work:
        work.session.get_one(Person, TECHNICIAN.id).active = False
    lead = desk.person(LEAD)
    path, field = f"/turnover/tablets/{TABLET}/revoke", f"revoke-{TABLET}-reason"
    assert decide(lead, path, field, "Lost.").status == 303
    shown = look(lead, data)
    assert shown.status == 200 and TECHNICIAN.name in shown.text
    for words in ("1 entry and 1 photograph of", "Lost.", "no longer signs in", "kB)"):
        assert words in shown.text
    with desk.work() as work:
        assert list(work.session.scalars(select(Reading))) == []
    done = take(lead, shown)
    assert "1 of 1 entry is in the record" in done.text
    assert "1 of 1 photograph is in the record" in done.text
    assert "choose it again" in take(lead, shown).text
    assert take(lead, look(lead, data)).text.count("1 of them was there before") == 2
    with desk.work() as work:
        (reading,) = work.session.scalars(select(Reading))
        assert (reading.by_id, reading.device) == (TECHNICIAN.id, "tablet 7f3a")
        asked = select(LogEntry).where(LogEntry.action == "reading")
        (logged,) = work.session.scalars(asked)
        body = json.loads(logged.body)
        assert (body["brought_by"], body["tablet"]) == (str(LEAD.id), str(TABLET))
        assert body["tablet_revoked_at"]
        (attached,) = work.session.scalars(select(Attachment))
        assert str(attached.id) == file["rounds"][0]["photos"][0]["id"]
        assert attached.by_id == TECHNICIAN.id
        assert attached.note == "burn mark · taken 2026-02-01 20:30 +1300"
        asked = select(LogEntry).where(LogEntry.action == "attach file")
        (logged,) = work.session.scalars(asked)
        assert logged.actor_id == TECHNICIAN.id
        of_photo = json.loads(logged.body)["photograph"]
        assert (of_photo["brought_by"], of_photo["tablet"]) == (
            str(LEAD.id),
            str(TABLET),
        )
        assert of_photo["tablet_revoked_at"]
        opened = desk.app.extensions["files"].open(attached.digest)
        with opened, Image.open(opened) as kept:
            assert not kept.getexif()
        assert check_record(work.session).faults == []


def of_another_key(file: Any) -> None:
    file["by_server"]["data"] = file["by_server"]["data"][::-1]


def of_another_round(file: Any) -> None:
    file["rounds"][0]["entries"][0]["id"] = f"{uuid4()}/outbox:{uuid4()}"


def of_another_person(file: Any) -> None:
    file["person"]["id"] = str(SECOND.id)


def unsealed(file: Any) -> None:
    file["rounds"][0]["entries"][0] |= {"sealed": None, "entry": {"key": "1"}}


def of_elsewhere(file: Any) -> None:
    file["tablet"] = str(uuid4())


def round_elsewhere(file: Any) -> None:
    file["rounds"][0]["round"] = str(uuid4())


def empty(file: Any) -> None:
    file["rounds"] = []


WRONG: dict[str, tuple[Callable[[Any], None], str]] = {
    "its key was changed": (of_another_key, "Its key does not open"),
    "an entry was moved": (of_another_round, "does not open: the file was changed"),
    "somebody else is named": (of_another_person, "never gave"),
    "it is not sealed": (unsealed, "only"),
    "of another installation": (of_elsewhere, "does not know"),
    "a round that is not there": (round_elsewhere, "none that you see"),
    "nothing in it": (empty, "nothing unsent"),
}


def test_what_is_no_such_file_is_said_and_nothing_is_stored(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    good = carried_off(desk, a_reading(desk))
    lead = desk.person(LEAD)
    for what in (b"", b"[" * 9000, b'{"format": "witnessmark-unsent-1"'):
        assert "not whole" in look(lead, what).text
    for name, (change, words) in WRONG.items():
        file = json.loads(json.dumps(good))
        change(file)
        page = look(lead, json.dumps(file).encode())
        assert page.status == 422, name
        assert words in page.text and "Nothing was stored" in page.text, name
    with desk.work() as work:
        assert list(work.session.scalars(select(Reading))) == []


def test_it_is_a_leads_to_take_in(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    data = json.dumps(carried_off(desk, a_reading(desk))).encode()
    shown = look(desk.person(LEAD), data)
    technician = desk.person(TECHNICIAN)
    assert look(technician, data).status == take(technician, shown).status == 403


def test_each_photograph_is_taken_in_or_left_by_itself(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    file = carried_off(desk, a_reading(desk), kind="back")
    good = [photo(desk, picture(seed, 200)) for seed in (1, 2)]
    moved = photo(desk, picture(3, 200)) | {"id": str(uuid4())}
    bare = photo(desk, picture(4, 200), unsealed_photo)
    elsewhere = photo(desk, picture(5, 200), card=str(uuid4()))
    text = photo(desk, b"a;b\n1;2\n")
    wrong = photo(desk, picture(6, 200), digest="0" * 64)
    untold = photo(desk, picture(7, 200), marks=7)
    same = photo(desk, picture(1, 200))
    photos = [good[0], moved, bare, elsewhere, text, wrong, untold, {}, same, good[1]]
    file["rounds"][0]["photos"] = photos
    with desk.work() as work:  # other tests have left theirs in the store
        before = list(check_files(work.session, desk.app.extensions["files"]))
    lead = desk.person(LEAD)
    shown = look(lead, json.dumps(file).encode())
    held = shown.fields["held"]
    for words in ("does not open", "only", "no card", "cannot be taken in; the rest"):
        assert words in shown.text, words
    done = take(lead, shown)
    assert "1 of 1 entry is in the record" in done.text
    assert "2 of 10 photographs are in the record" in done.text
    for words in ("no JPEG, PNG or WebP", "not what the tablet sent", "here already"):
        assert words in done.text, words
    with desk.work() as work:
        kept = {str(one) for one in work.session.scalars(select(Attachment.id))}
        assert kept == {one["id"] for one in good}
        left = list(check_files(work.session, desk.app.extensions["files"]))
        assert left == before
    assert not list(desk.app.extensions["carried files"].folder.glob(f"{held}.*"))


def test_a_day_of_photographs_is_one_file_and_too_large_a_one_is_said(
    desk_at: DeskAt,
) -> None:
    """20 of half a megabyte: above what any other request may bring."""
    desk = desk_at("opened")
    file = carried_off(desk, a_reading(desk))
    twenty = [photo(desk, bytes([n]) * 500_000) for n in range(20)]
    file["rounds"][0]["photos"] = twenty
    data = json.dumps(file).encode()
    assert len(data) > desk.app.config["MAX_CONTENT_LENGTH"]
    lead = desk.person(LEAD)
    shown = look(lead, data)
    assert shown.status == 200
    assert "20 photographs (10 MB)" in shown.text
    large = look(lead, b" " * (LARGEST_CARRIED + 1))
    assert large.status == 413
    assert "no tablet makes one so large" in large.text
