"""What people found who compared a published table with a licensed copy."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.parties import Organisation, Person


class TableCheck(Record):
    """One row of one table, confirmed or corrected, or a check of it withdrawn.

    *row_digest* is that of the row as the program shipped it then; *figures* are
    the copy's, as typed, by column; *supersedes_id* names the check before it of
    the same organisation and row.
    """

    __tablename__ = "table_check"
    __table_args__ = (
        CheckConstraint("act IN ('confirmed', 'corrected', 'withdrawn')", name="act"),
        UniqueConstraint("supersedes_id"),
        Index(
            "ix_table_check_organisation_id_table_key", "organisation_id", "table_key"
        ),
        {"sqlite_strict": True},
    )

    organisation_id: Mapped[UUID] = mapped_column(ForeignKey("organisation.id"))
    table_key: Mapped[str]
    row_name: Mapped[str]
    row_digest: Mapped[str]
    act: Mapped[str]
    figures: Mapped[dict[str, Any]]
    edition: Mapped[str]  # of the copy; blank where a check is withdrawn
    clause: Mapped[str]
    reason: Mapped[str]
    supersedes_id: Mapped[UUID | None] = mapped_column(ForeignKey("table_check.id"))
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    by: Mapped[Person] = relationship()
    organisation: Mapped[Organisation] = relationship()
