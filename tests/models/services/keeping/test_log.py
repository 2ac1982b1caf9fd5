"""The chained log, worked out again by a few lines of the test's own."""

import hashlib
import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError
from models.schema import LogEntry, Person
from models.schema.engine import make_engine
from models.services.keeping.check_record import check_record
from models.services.keeping.log import (
    FIRST,
    append_log,
    head,
    stamp,
    take_turn,
    texted,
)
from models.services.setup.save_lineup import save_lineup
from models.services.setup.stored_draft import lineup_draft_of
from tests.conftest import Stages
from tests.scenario import (
    BEGAN,
    IR,
    LEAD,
    SITE,
    TECHNICIAN,
    Work,
    fixed_id,
    lineup_id,
)


def own_hash(entry: LogEntry, previous: str) -> str:
    """Return what the entry's hash has to be.

    RFC 8785 for names in ASCII and no numbers but whole ones: names sorted, no
    blanks, UTF-8, nothing escaped that need not be.
    """
    at = entry.at.strftime("%Y-%m-%dT%H:%M:%S")
    at += f".{entry.at.microsecond:06d}Z" if entry.at.microsecond else "Z"
    content = {
        "seq": entry.seq,
        "at": at,
        "actor": str(entry.actor_id) if entry.actor_id else None,
        "action": entry.action,
        "subject": entry.subject,
        "body": json.loads(entry.body),
    }
    whole = json.dumps(
        {"previous": previous, "content": content},
        sort_keys=True,
        separators=(",", ":"),
        ensure_ascii=False,
    )
    return hashlib.sha256(whole.encode("utf-8")).hexdigest()


def assert_chained(session: Session) -> int:
    previous, count = "0" * 64, 0
    for entry in session.scalars(select(LogEntry).order_by(LogEntry.seq)):
        count += 1
        assert (entry.seq, entry.previous) == (count, previous)
        assert entry.hash == own_hash(entry, previous)
        previous = entry.hash
    assert head(session) == (count, previous)
    found = check_record(session)
    assert (found.entries, found.head, found.faults) == (count, previous, [])
    return count


def test_a_whole_round_hangs_together(accepted: Work) -> None:
    assert assert_chained(accepted.session) > 60


TEXTS = (
    "1.05 MΩ at 58 %",
    'quote " back \\ slash / line\nreturn\rtab\tbell\x07 delete\x7f',
    "ligne séparée\u2028µ 🔧 é (one) é (two)",
    "",
)


def test_any_words_and_any_moment(place: Session) -> None:
    for count, text in enumerate(TEXTS):
        append_log(
            place,
            actor_id=None if count % 2 else LEAD.id,
            action="remark",
            subject=text,
            body={"text": text, "z": None, "a": True, "n": -3, "list": [1.5, {}]},
            now=BEGAN + timedelta(microseconds=count * 250_000),
        )
    place.flush()
    place.expire_all()
    assert_chained(place)


def test_the_first_link_follows_from_nothing(session: Session) -> None:
    assert head(session) == (0, FIRST)
    entry = append_log(
        session, actor_id=None, action="a", subject="b", body={}, now=BEGAN
    )
    assert (entry.seq, entry.previous) == (1, "0" * 64)
    # Worked out with sha256sum over the canonical text written by hand.
    text = (
        '{"content":{"action":"a","actor":null,"at":"2026-03-02T21:00:00Z",'
        '"body":{},"seq":1,"subject":"b"},"previous":"' + "0" * 64 + '"}'
    )
    assert entry.hash == hashlib.sha256(text.encode()).hexdigest()


def test_hashes_do_not_depend_on_the_zone_that_a_server_answers_in(
    stages: Stages,
) -> None:
    url = stages.url("place")
    if not url.startswith("sqlite"):
        url += "?options=-c%20timezone%3DAsia/Kolkata"
    engine = make_engine(url)
    with Session(engine) as session:
        first = session.scalars(select(LogEntry).limit(1)).one()
        assert first.at.utcoffset() == timedelta(0)
        assert_chained(session)
    engine.dispose()


VALUES: dict[str, tuple[Any, Any]] = {
    "a measured value is text": (38.6, "38.6"),
    "no digit more than there is": (0.1, "0.1"),
    "a whole float": (20.0, "20.0"),
    "a count stays a number": (20, 20),
    "yes stays yes": (True, True),
    "nothing stays nothing": (None, None),
    "a moment": (BEGAN, "2026-03-02T21:00:00Z"),
    "an identifier": (UUID(int=1), "00000000-0000-0000-0000-000000000001"),
    "deep inside": (
        {"a": [1.5, (2.5, {"b": 3.5})]},
        {"a": ["1.5", ["2.5", {"b": "3.5"}]]},
    ),
    "names become text": ({1: 2}, {"1": 2}),
}


@pytest.mark.parametrize(("value", "text"), VALUES.values(), ids=VALUES)
def test_texted(value: Any, text: Any) -> None:
    assert texted(value) == text


def test_stamp_is_rfc_3339_in_utc() -> None:
    at = datetime(2026, 3, 2, 21, 0, 0, 120_000, tzinfo=UTC)
    assert stamp(at) == "2026-03-02T21:00:00.120000Z"


def test_measured_values_are_text_in_the_log(confirmed: Work) -> None:
    confirmed.read("bus", IR, "9.00")
    body = json.loads(
        confirmed.session.scalars(
            select(LogEntry.body).where(LogEntry.action == "reading")
        ).one()
    )
    assert body["text"] == "9.00"
    assert body["judgement"]["corrected"] == "9000.0"
    assert body["rule"] == confirmed.card("bus", IR).points[0].rule_digest


def test_an_entry_names_who_and_what(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    key = str(uuid4())
    confirmed.store(confirmed.entry(card, "note", text="rain", key=key))
    last = confirmed.session.scalars(
        select(LogEntry).order_by(LogEntry.seq.desc()).limit(1)
    ).one()
    assert (last.actor_id, last.action, last.subject) == (
        TECHNICIAN.id,
        "note",
        f"card {card.id}",
    )
    assert json.loads(last.body) == {"device": "tablet 1", "key": key, "text": "rain"}


@pytest.mark.postgres
def test_in_its_turn_a_session_sees_what_others_wrote(postgres_stages: Stages) -> None:
    engine = make_engine(postgres_stages.fresh("place"))
    with Session(engine) as mine, Session(engine) as theirs:
        read_before = mine.get_one(Person, TECHNICIAN.id)
        assert read_before.version == 1
        take_turn(theirs)
        theirs.get_one(Person, TECHNICIAN.id).version = 2
        theirs.commit()
        take_turn(mine)
        assert read_before.version == 2
        read_before.version = 3
        take_turn(mine)
        assert read_before.version == 3  # what it wrote itself stays
    engine.dispose()


@pytest.mark.postgres
def test_two_who_save_one_lineup_at_once(postgres_stages: Stages) -> None:
    engine = make_engine(postgres_stages.fresh("place"))
    asked: dict[str, Any] = {
        "person_id": LEAD.id,
        "site_id": fixed_id(SITE),
        "lineup_id": lineup_id(),
        "now": BEGAN,
        "new_id": uuid4,
    }
    with Session(engine) as mine, Session(engine) as theirs:
        draft, version = lineup_draft_of(mine, LEAD.id, lineup_id())
        asked["seen_version"] = version
        save_lineup(theirs, draft=replace(draft, name="MV-2"), **asked)
        theirs.commit()
        with pytest.raises(ConflictError, match="Somebody else saved"):
            save_lineup(mine, draft=replace(draft, name="MV-3"), **asked)
    engine.dispose()
