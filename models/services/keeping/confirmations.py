"""Confirmations: those that come together are one row, which names list and texts."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session, joinedload

from models.schema import (
    ConfirmedTogether,
    PreconditionList,
    PreconditionText,
)
from models.schema.confirmations import Confirmation
from models.schema.written import canonical
from models.services.keeping.log import stamp
from models.services.keeping.order import following

MICROSECOND = timedelta(microseconds=1)


def text_digest(text: str) -> str:
    """Return the SHA-256 of a precondition's text, in hex."""
    return hashlib.sha256(text.encode()).hexdigest()


def list_digest(items: Sequence[Sequence[str]]) -> str:
    """Return the SHA-256 of the list's canonical JSON, in hex."""
    return hashlib.sha256(
        canonical([list(item) for item in items]).encode()
    ).hexdigest()


def together_digest(row: ConfirmedTogether) -> str:
    """Return the SHA-256 over all that a row says, which the log holds."""
    said = [str(row.card_id), str(row.by_id), row.list_digest, stamp(row.at), row.items]
    return hashlib.sha256(canonical(said).encode()).hexdigest()


def keep_together(
    session: Session, confirmations: Iterable[Confirmation]
) -> ConfirmedTogether:
    """Store what one person answered on one card in one go.

    What arrives at the same moment as others of theirs is said to have come the
    moment after: the two stay apart.
    """
    rows = sorted(confirmations, key=lambda c: (c.at, c.code, c.id))
    first = rows[0]
    answers = [[c.code, text_digest(c.text), c.state] for c in rows]
    _keep_texts(session, {text_digest(c.text): c.text for c in rows})
    digest = list_digest(answers)
    if session.get(PreconditionList, digest) is None:
        session.add(PreconditionList(digest=digest, items=answers))
    earlier = select(func.max(ConfirmedTogether.arrived_at)).where(
        ConfirmedTogether.card_id == first.card_id,
        ConfirmedTogether.by_id == first.by_id,
    )
    last = session.scalar(earlier)
    row = ConfirmedTogether(
        id=first.id,
        card_id=first.card_id,
        by_id=first.by_id,
        at=first.at,
        arrived_at=following(first.arrived_at, [last] if last else []),
        list_digest=digest,
        items=[_item(c, first) for c in rows],
    )
    session.add(row)
    session.flush()
    return row


def _item(one: Confirmation, first: Confirmation) -> list[Any]:
    after = (one.at - first.at) // MICROSECOND
    reason = [] if one.reason is None else [one.reason]
    return [one.id.hex, after, *reason]


def _keep_texts(session: Session, texts: Mapping[str, str]) -> None:
    there = PreconditionText.digest.in_(texts)
    known = set(session.scalars(select(PreconditionText.digest).where(there)))
    for digest in texts.keys() - known:
        session.add(PreconditionText(digest=digest, text=texts[digest]))


def confirmations_on(
    session: Session, card_ids: Iterable[UUID]
) -> Iterator[Confirmation]:
    """Yield what was answered on these cards, in the order in which it arrived."""
    rows = session.scalars(
        select(ConfirmedTogether)
        .where(ConfirmedTogether.card_id.in_(list(card_ids)))
        .options(
            joinedload(ConfirmedTogether.by),
            joinedload(ConfirmedTogether.stored_list),
        )
        .order_by(ConfirmedTogether.arrived_at, ConfirmedTogether.id)
    ).all()
    texts = stored_texts(session) if rows else {}
    for row in rows:
        yield from taken_apart(row, texts)


def stored_texts(session: Session) -> dict[str, str]:
    """Return every text of a precondition by its digest: there are few."""
    return {row.digest: row.text for row in session.scalars(select(PreconditionText))}


def taken_apart(
    row: ConfirmedTogether, texts: Mapping[str, str]
) -> Iterator[Confirmation]:
    """Yield each confirmation of a row.

    A text that is gone reads as empty, and a row that does not fit its list gives
    what fits: `check` names both, and has to read them.
    """
    pairs = zip(row.stored_list.items, row.items, strict=False)
    for (code, digest, state), (key, after, *reason) in pairs:
        yield Confirmation(
            id=UUID(key),
            card_id=row.card_id,
            code=code,
            text=texts.get(digest, ""),
            state=state,
            reason=reason[0] if reason else None,
            by=row.by,
            at=row.at + after * MICROSECOND,
            arrived_at=row.arrived_at,
        )
