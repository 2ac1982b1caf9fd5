"""Receipts: what was taken in before, under which key, asked for once in a call."""

from collections.abc import Iterable
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Receipt

AT_ONCE = 500  # keys in one statement


class Receipts:
    """The receipts of the keys that a call brings; of any other on asking."""

    def __init__(self, session: Session) -> None:
        """Know of none yet."""
        self._session = session
        self._asked: dict[UUID, Receipt | None] = {}

    def expect(self, keys: Iterable[UUID]) -> None:
        """Look for the receipts of these keys, in a few queries."""
        wanted = sorted(set(keys))
        self._asked |= dict.fromkeys(wanted)
        for at in range(0, len(wanted), AT_ONCE):
            part = Receipt.id.in_(wanted[at : at + AT_ONCE])
            for row in self._session.scalars(select(Receipt).where(part)):
                self._asked[row.id] = row

    def get(self, key: UUID) -> Receipt | None:
        """Return the receipt of a key; None where nothing came under it."""
        if key not in self._asked:
            self._asked[key] = self._session.get(Receipt, key)
        return self._asked[key]

    def add(self, row: Receipt) -> None:
        """Add a receipt; it goes to the database with what comes next."""
        self._session.add(row)
        self._asked[row.id] = row
