"""The log: a chain in which each entry carries the hash of the one before."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from models.schema.base import Base


class LogEntry(Base):
    """One link."""

    __tablename__ = "log_entry"

    seq: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    at: Mapped[datetime]
    actor_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    action: Mapped[str]
    subject: Mapped[str]  # "reading <uuid>"
    body: Mapped[str]  # canonical JSON; measured values as text
    previous: Mapped[str]
    hash: Mapped[str]
