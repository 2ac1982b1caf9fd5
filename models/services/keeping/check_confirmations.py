"""Hold confirmations to the log, in which one entry may say many of them."""

import json
from collections import Counter
from collections.abc import Iterator, Mapping

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.schema import (
    ConfirmedTogether,
    LogEntry,
    PreconditionList,
    PreconditionText,
)
from models.schema.confirmations import Confirmation
from models.services.keeping.check_rows import Body, Said, differences
from models.services.keeping.confirmations import (
    list_digest,
    stored_texts,
    taken_apart,
    text_digest,
    together_digest,
)
from models.services.keeping.log import texted
from models.signing import chain


def confirmations_against_log(session: Session) -> Iterator[str]:
    """Yield a fault for each confirmation that is not as the log has it."""
    said: Counter[bytes] = Counter()
    together: set[str] = set()
    for entry in session.scalars(select(LogEntry).where(LogEntry.action == "confirm")):
        try:
            for one in _all_said(json.loads(entry.body)):
                said[_line([*one, entry.subject])] += 1
                together |= {one[0]} if len(one) == 2 else set()
        except (ValueError, TypeError, KeyError, AttributeError):
            yield f"log entry {entry.seq} cannot be read"
    yield from differences("confirmation", said, _all_stored(session, together))
    yield from _wrong_digests(session)


def _line(what: Said) -> bytes:
    return chain.canonical(texted(what))


def _all_said(body: Body) -> list[Said]:
    """Return what an entry says.

    From revision 0009 it holds the digest of what came together; before, it named
    each, and the first ones had each an entry, with text.
    """
    if "digest" in body:
        return [[body["key"], body["digest"]]]
    return [_said(one) for one in body.get("confirmed", [body])]


def _said(one: Body) -> Said:
    if "text" in one:
        text = text_digest(one["text"])
        return [one["key"], one["code"], one["state"], one["reason"], text]
    reason = one.get("reason")
    state = "confirmed" if reason is None else "not_applicable"
    return [one["key"], one["code"], state, reason, one["text_sha256"]]


def _all_stored(session: Session, together: set[str]) -> Counter[bytes]:
    """Count what is stored; *together* has the rows that the log says whole."""
    texts = stored_texts(session)
    stored: Counter[bytes] = Counter()
    for row in session.scalars(
        select(ConfirmedTogether).options(joinedload(ConfirmedTogether.stored_list))
    ):
        for one in _stored(row, texts, whole=str(row.id) in together):
            stored[_line([*one, f"card {row.card_id}"])] += 1
    return stored


def _stored(
    row: ConfirmedTogether, texts: Mapping[str, str], *, whole: bool
) -> list[Said]:
    if whole:
        return [[row.id, together_digest(row)]]
    return [_stored_one(one) for one in taken_apart(row, texts)]


def _stored_one(one: Confirmation) -> Said:
    return [one.id, one.code, one.state, one.reason, text_digest(one.text)]


def _wrong_digests(session: Session) -> Iterator[str]:
    """Yield a fault for each text and list that its digest does not fit, or is gone."""
    texts = session.scalars(select(PreconditionText)).all()
    lists = session.scalars(select(PreconditionList)).all()
    for text in texts:
        if text_digest(text.text) != text.digest:
            yield f"precondition text {text.digest} is not what its digest says"
    there = {text.digest for text in texts}
    for one in lists:
        if list_digest(one.items) != one.digest:
            yield f"precondition list {one.digest} is not what its digest says"
        for code, digest, _ in one.items:
            if digest not in there:
                yield f"the text {digest} of precondition {code} is not there"
