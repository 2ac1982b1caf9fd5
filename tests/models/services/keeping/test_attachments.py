"""Files on record: who attaches and sees them, and that record and store agree."""

import io
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
    WitnessmarkError,
)
from models.files.folder_store import FolderStore
from models.files.receive import Limits
from models.schema import Apparatus, Attachment, LogEntry, StoredFile
from models.services.keeping.attachments import (
    attached,
    attachment,
    attachments_of,
    withdraw,
)
from models.services.keeping.check_files import check_files
from models.services.keeping.check_record import check_record
from tests.attaching import TEXT, put
from tests.cases import first_on_both
from tests.models.files import made_up_files as made
from tests.models.services.keeping.tampering import change, without_triggers
from tests.scenario import (
    CR,
    LEAD,
    OFF_SITE,
    OWNER,
    RIVAL,
    SECOND,
    SITE,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)


@pytest.fixture
def store(tmp_path: Path) -> FolderStore:
    """An empty store."""
    return FolderStore(tmp_path / "files")


def things(work: Work) -> dict[str, UUID]:
    """Return one thing of every kind."""
    card = work.card("breaker 52", CR)
    (reading,) = work.read("breaker 52", CR, "61.7")
    found = work.entry(
        card, "deficiency", text="dust", holder="x", severity="may_follow"
    )
    work.store(found)
    return {
        "apparatus": card.apparatus_id,
        "calibration": fixed_id("CR-1 calibration"),
        "card": card.id,
        "deficiency": UUID(found["key"]),
        "instrument": fixed_id("CR-1"),
        "lineup": lineup_id(),
        "reading": reading,
        "round": work.round_id,
        "site": fixed_id(SITE),
    }


def test_a_file_is_attached_to_any_thing_and_the_record_stays_whole(
    confirmed: Work, store: FolderStore
) -> None:
    where = things(confirmed)
    for subject, key in where.items():
        made_id = put(confirmed, store, subject, key)
        (seen,) = attachments_of(
            confirmed.session,
            person_id=TECHNICIAN.id,
            subject=subject,
            subject_id=key,
        )
        assert (seen.id, seen.name, seen.note) == (made_id, "seen.txt", "as found")
        assert seen.digest == seen.sent_digest == sha256(TEXT).hexdigest()
        assert (seen.size, seen.kind.name, seen.by) == (30, "txt", TECHNICIAN.name)
    # One content, nine attachments: it is stored once.
    assert len(confirmed.session.scalars(select(StoredFile)).all()) == 1
    assert list(store.digests()) == [sha256(TEXT).hexdigest()]
    assert check_record(confirmed.session).faults == []
    assert list(check_files(confirmed.session, store)) == []


SEEN_BY = {
    OFF_SITE: {"instrument", "calibration"},  # of their firm
    RIVAL: set(),
    STRANGER: set(),
    # The round is open: before turnover its readings are nobody's word yet.
    OWNER: {"apparatus", "lineup", "site"},
}


def test_who_sees_a_file_is_who_sees_its_subject(
    confirmed: Work, store: FolderStore
) -> None:
    where = things(confirmed)
    files = {s: put(confirmed, store, s, key) for s, key in where.items()}

    def sees(who: Cast, subject: str) -> bool:
        try:
            attachment(
                confirmed.session, person_id=who.id, attachment_id=files[subject]
            )
        except NotFoundError:
            return False
        return True

    found = {who: {s for s in where if sees(who, s)} for who in SEEN_BY}
    assert found == SEEN_BY


def test_the_owner_sees_the_certificates_behind_what_was_turned_over(
    accepted: Work, store: FolderStore
) -> None:
    key = fixed_id("CR-1 calibration")
    made_id = put(accepted, store, "calibration", key)
    seen = attachment(accepted.session, person_id=OWNER.id, attachment_id=made_id)
    assert not seen.may_withdraw
    with pytest.raises(ForbiddenError):
        put(accepted, store, "calibration", key, by=OWNER, content=b"other\n")
    assert put(accepted, store, "lineup", lineup_id(), by=OWNER)


def test_a_breaker_on_the_shelf_keeps_its_files(
    confirmed: Work, store: FolderStore
) -> None:
    spare = confirmed.session.get_one(Apparatus, things(confirmed)["apparatus"])
    spare.cell_id = None
    confirmed.session.flush()
    confirmed.session.expire(spare)
    assert put(confirmed, store, "apparatus", spare.id)
    with pytest.raises(NotFoundError, match="no apparatus"):
        put(confirmed, store, "apparatus", spare.id, by=STRANGER)


@pytest.mark.parametrize("subject", ["round", "card"])
def test_what_is_turned_over_stays_as_it_was(
    accepted: Work, store: FolderStore, subject: str
) -> None:
    key = {"round": accepted.round_id, "card": accepted.card("breaker 52", CR).id}
    with pytest.raises(ConflictError, match="nothing more can be entered"):
        put(accepted, store, subject, key[subject])
    assert not attached(
        accepted.session, person_id=LEAD.id, subject=subject, subject_id=key[subject]
    ).may_add


REFUSED: dict[str, tuple[dict[str, Any], type[WitnessmarkError], str]] = {
    "no picture": ({"content": b"\xff\xd8\xff no"}, InputError, "cannot be opened"),
    "larger": ({"limits": Limits(bytes=20, each=9)}, InputError, "larger than 2e-05"),
    "too many": ({"limits": Limits(bytes=99, each=1)}, InputError, "1 files here"),
    "again": ({}, InputError, "here already, as seen.txt"),
    "a long note": ({"note": "x" * 4001}, InputError, "under 4000"),
    "of another site": ({"by": RIVAL}, NotFoundError, "no card"),
    "of nothing": ({"subject": "person"}, NotFoundError, "no kind of thing"),
}


@pytest.mark.parametrize(("given", "family", "why"), first_on_both(REFUSED))
def test_what_is_refused_leaves_nothing_on_record(
    confirmed: Work,
    store: FolderStore,
    given: dict[str, Any],
    family: type[WitnessmarkError],
    why: str,
) -> None:
    card = confirmed.card("breaker 52", CR).id
    put(confirmed, store, "card", card)
    before = confirmed.session.scalars(select(LogEntry.seq)).all()
    with pytest.raises(family, match=why):
        put(confirmed, store, **({"subject": "card", "key": card} | given))
    assert len(confirmed.session.scalars(select(Attachment)).all()) == 1
    assert confirmed.session.scalars(select(LogEntry.seq)).all() == before
    assert list(check_files(confirmed.session, store)) == []


def test_a_picture_is_known_by_both_its_digests(
    confirmed: Work, store: FolderStore
) -> None:
    card, sent = confirmed.card("breaker 52", CR).id, made.jpeg()
    made_id = put(confirmed, store, "card", card, content=sent, name=r"..\..\x.exe")
    seen = attachment(confirmed.session, person_id=TECHNICIAN.id, attachment_id=made_id)
    assert (seen.name, seen.kind.name) == ("x.exe.jpg", "jpeg")
    assert seen.sent_digest == sha256(sent).hexdigest()
    with store.open(seen.digest) as file:
        kept = file.read()
    assert sha256(kept).hexdigest() == seen.digest != seen.sent_digest
    assert len(kept) == seen.size
    # Sent twice, the same pixels make the same file.
    with pytest.raises(InputError, match="here already"):
        put(confirmed, store, "card", card, content=sent, name="again.jpg")


def test_a_file_is_withdrawn_with_a_reason_and_stays(
    confirmed: Work, store: FolderStore
) -> None:
    card = confirmed.card("breaker 52", CR).id
    first = put(confirmed, store, "card", card)

    def gone(who: Cast, reason: str = "of another breaker") -> None:
        withdraw(
            confirmed.session,
            person_id=who.id,
            attachment_id=first,
            reason=reason,
            now=confirmed.tick(),
            new_id=uuid4,
        )

    with pytest.raises(ForbiddenError, match=f"{TECHNICIAN.name} attached"):
        gone(SECOND)
    with pytest.raises(InputError, match="why the file does not count"):
        gone(TECHNICIAN, " ")
    gone(LEAD)
    confirmed.session.expire_all()
    (seen,) = attachments_of(
        confirmed.session, person_id=SECOND.id, subject="card", subject_id=card
    )
    assert seen.withdrawn == (LEAD.name, confirmed.at, "of another breaker")
    with pytest.raises(ConflictError, match="withdrawn already"):
        gone(TECHNICIAN)
    put(confirmed, store, "card", card)  # it may be attached again
    assert check_record(confirmed.session).faults == []


def test_check_finds_what_is_missing_changed_and_nobody_s(
    confirmed: Work, store: FolderStore
) -> None:
    card = confirmed.card("breaker 52", CR).id
    kept = {}
    for content in (b"missing\n", b"changed\n", b"whole\n"):
        name = f"{content.decode().strip()}.txt"
        put(confirmed, store, "card", card, content=content, name=name)
        digest = sha256(content).hexdigest()
        kept[name] = store.folder / digest[:2] / digest
    kept["missing.txt"].unlink()
    kept["changed.txt"].chmod(0o600)
    kept["changed.txt"].write_bytes(b"altered\n")
    orphan = sha256(b"left over\n").hexdigest()
    store.put(io.BytesIO(b"left over\n"), orphan)
    faults = sorted(check_files(confirmed.session, store))
    assert [fault.partition(" (")[0] for fault in faults] == [
        f"file 'changed.txt' of card {card} is changed in the store",
        f"file 'missing.txt' of card {card} is missing in the store",
        f"file {orphan} of the store belongs to nothing on record",
    ]


CHANGES = {
    "another name": ("name = 'other.txt'", "differs from the log"),
    "another thing": ("subject = 'site'", "differs from the log"),
}


@pytest.mark.parametrize(("what", "how"), CHANGES.values(), ids=CHANGES)
def test_check_sees_a_row_that_was_changed(
    session_at: Callable[[str], Session], tmp_path: Path, what: str, how: str
) -> None:
    work = Work.resume(session_at("confirmed"))
    made_id = put(work, FolderStore(tmp_path), "card", work.card("breaker 52", CR).id)
    without_triggers(work.session, "attachment")
    change(work.session, "attachment", what, made_id)
    (fault,) = check_record(work.session).faults
    assert str(made_id) in fault
    assert how in fault
