"""Preconditions that somebody answered: those that came together are one row."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Base, Record
from models.schema.parties import Person


class PreconditionText(Base):
    """What a precondition said on some day, under the SHA-256 of the text, in hex."""

    __tablename__ = "precondition_text"

    digest: Mapped[str] = mapped_column(primary_key=True)
    text: Mapped[str]


class PreconditionList(Base):
    """A list of answers: [[code, digest of the text, state], ...], in order.

    Under the SHA-256 of its canonical JSON, in hex. A state is confirmed or
    not_applicable. Cards of one procedure are answered by the same few lists.
    """

    __tablename__ = "precondition_list"

    digest: Mapped[str] = mapped_column(primary_key=True)
    items: Mapped[list[Any]]


class ConfirmedTogether(Record):
    """What one person answered on one card and sent in one go.

    *items* has for each item of the list the entry's key in hex, the microseconds
    after *at* when it was answered, and the reason where it does not apply. Its id
    is the first key. `services.keeping.confirmations` writes and reads it.
    """

    __tablename__ = "confirmed_together"
    __table_args__ = (
        UniqueConstraint("card_id", "by_id", "arrived_at"),
        {"sqlite_strict": True},
    )

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"))
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]
    list_digest: Mapped[str] = mapped_column(ForeignKey("precondition_list.digest"))
    items: Mapped[list[Any]]

    by: Mapped[Person] = relationship()
    stored_list: Mapped[PreconditionList] = relationship()


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmation:
    """A precondition, confirmed (or found not applicable) by a named person."""

    id: UUID  # the entry's key
    card_id: UUID
    code: str
    text: str  # as it read on that day
    state: str
    reason: str | None
    by: Person
    at: datetime
    arrived_at: datetime

    @property
    def by_id(self) -> UUID:
        """Who answered it."""
        return self.by.id
