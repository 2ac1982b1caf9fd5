"""Check every key and its revocation against the log, and what was signed after."""

import json
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import LogEntry, Signature, SigningKey
from models.services.keeping.check_rows import Body, Said, against_log
from models.services.keeping.log import stamp
from models.signing import seals

GIVEN = ("add person", "enrol", "reset")  # the acts that give somebody a key
SIGNED = "sign "  # how the acts of signing begin


def keys_against_log(session: Session) -> Iterator[str]:
    """Yield a fault for each key that is not as the log has it, or signed too late."""
    rows = session.scalars(select(SigningKey)).all()
    prints = {row.id: seals.fingerprint(row.certificate_pem) for row in rows}
    given = ([_named(_subject(row), prints[row.id])] for row in rows)
    yield from against_log(session, "key of", GIVEN, _given, given)
    revoked = (
        [_named(_subject(row), prints[row.id]), stamp(row.revoked_at)]
        for row in rows
        if row.revoked_at is not None
    )
    yield from against_log(session, "revocation of", ("reset",), _revoked, revoked)
    yield from _signed_after_revocation(session)


def _subject(row: SigningKey) -> str:
    return f"person {row.person_id}"


def _named(subject: str, key: str) -> str:
    """Return what a key is called: a person may have had several."""
    return f"{subject}: {key}"


def _given(subject: str, body: Body) -> Said:
    return [_named(subject, body["key"])]


def _revoked(subject: str, body: Body) -> Said:
    return [_named(subject, body["revoked"]), body["revoked_at"]]


def _signed_after_revocation(session: Session) -> Iterator[str]:
    """By the order of the log, not by the times that signatures give themselves."""
    made = {
        row.seal: (row.id, row.fingerprint)
        for row in session.execute(
            select(Signature.id, Signature.seal, Signature.fingerprint)
        )
    }
    revoked: set[str] = set()
    entries = select(LogEntry.action, LogEntry.body).order_by(LogEntry.seq)
    for action, text in session.execute(entries):
        if action != "reset" and not action.startswith(SIGNED):
            continue
        try:
            body = json.loads(text)
            if action == "reset":
                revoked.add(body["revoked"])
                continue
            which, key = made.get(body["seal"], (None, ""))
        except (ValueError, KeyError, TypeError):
            continue  # said of the entry itself
        if key in revoked:
            yield f"signature {which} was made with a key that was revoked before"
