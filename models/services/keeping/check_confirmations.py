"""Hold confirmations to the log, in which one entry may say many of them."""

import json
from collections import Counter
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Confirmation, LogEntry
from models.services.field.entry_kinds import text_digest
from models.services.keeping.check_rows import Body, Said, differences
from models.services.keeping.log import texted
from models.signing import chain


def confirmations_against_log(session: Session) -> Iterator[str]:
    """Yield a fault for each confirmation that is not as the log has it."""
    said: Counter[bytes] = Counter()
    for entry in session.scalars(select(LogEntry).where(LogEntry.action == "confirm")):
        try:
            body = json.loads(entry.body)
            for one in body.get("confirmed", [body]):
                said[chain.canonical(texted([*_said(one), entry.subject]))] += 1
        except (ValueError, TypeError, KeyError, AttributeError):
            yield f"log entry {entry.seq} cannot be read"
    stored = Counter(
        chain.canonical(texted([*_stored(row), f"card {row.card_id}"]))
        for row in session.scalars(select(Confirmation))
    )
    yield from differences("confirmation", said, stored)


def _said(one: Body) -> Said:
    """Return what an entry says of one; the first ones had each an entry, with text."""
    if "text" in one:
        text = text_digest(one["text"])
        return [one["key"], one["code"], one["state"], one["reason"], text]
    reason = one.get("reason")
    state = "confirmed" if reason is None else "not_applicable"
    return [one["key"], one["code"], state, reason, one["text_sha256"]]


def _stored(row: Confirmation) -> Said:
    return [row.id, row.code, row.state, row.reason, text_digest(row.text)]
