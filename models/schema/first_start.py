"""The set-up of a new installation, as far as it has come."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from models.schema.base import Record


class FirstStart(Record):
    """One row at most, made when an empty installation is served for the first time."""

    __tablename__ = "first_start"

    code_hash: Mapped[str]
    ends: Mapped[datetime]  # of the code
    used_at: Mapped[datetime | None]  # when the code was given
    holder: Mapped[str | None]  # digest of what the browser holds that gave it
    organisation_id: Mapped[UUID | None] = mapped_column(ForeignKey("organisation.id"))
    person_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    finished_at: Mapped[datetime | None]  # when the fingerprint was written down
