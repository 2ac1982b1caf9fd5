"""Files that people attached, and to what: only ever added."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import BigInteger, CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Base, Record
from models.schema.parties import Person

SUBJECTS = (
    "apparatus",
    "calibration",
    "card",
    "deficiency",
    "instrument",
    "lineup",
    "reading",
    "round",
    "site",
)


class StoredFile(Base):
    """A file in the store, once, however often it is attached."""

    __tablename__ = "stored_file"

    digest: Mapped[str] = mapped_column(primary_key=True)  # SHA-256, hexadecimal
    size: Mapped[int] = mapped_column(BigInteger)  # bytes
    kind: Mapped[str]  # by its content: models.files.kinds
    at: Mapped[datetime]


class Attachment(Record):
    """A file, as somebody attached it to a thing."""

    __tablename__ = "attachment"
    __table_args__ = (
        CheckConstraint(f"subject IN {SUBJECTS!r}", name="subject"),
        Index(None, "subject", "subject_id"),
        {"sqlite_strict": True},
    )

    subject: Mapped[str]
    subject_id: Mapped[UUID]
    digest: Mapped[str] = mapped_column(ForeignKey("stored_file.digest"))
    sent_digest: Mapped[str]  # of what was sent: a picture is written anew
    name: Mapped[str]  # as shown
    note: Mapped[str]  # may be empty
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    file: Mapped[StoredFile] = relationship()
    by: Mapped[Person] = relationship()
    withdrawal: Mapped["AttachmentWithdrawal | None"] = relationship(
        back_populates="attachment"
    )


class AttachmentWithdrawal(Record):
    """A file that does not count any more; it stays to be read."""

    __tablename__ = "attachment_withdrawal"

    attachment_id: Mapped[UUID] = mapped_column(
        ForeignKey("attachment.id"), unique=True
    )
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    attachment: Mapped[Attachment] = relationship(back_populates="withdrawal")
    by: Mapped[Person] = relationship()
