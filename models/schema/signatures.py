"""Signatures by a person's own key, and the packages they stand on."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.parties import Person
from models.schema.rounds import Round


class Signature(Record):
    """A person's statement about a card or a package, made with their own key."""

    __tablename__ = "signature"
    __table_args__ = (
        CheckConstraint(
            "meaning IN ('performed', 'approved', 'accepted')", name="meaning"
        ),
        CheckConstraint("(card_id IS NULL) <> (package_id IS NULL)", name="subject"),
        {"sqlite_strict": True},
    )

    card_id: Mapped[UUID | None] = mapped_column(ForeignKey("card.id"), index=True)
    package_id: Mapped[UUID | None] = mapped_column(
        ForeignKey("package.id"), index=True
    )
    meaning: Mapped[str]
    statement: Mapped[str]  # canonical JSON of what was signed
    seal: Mapped[str]  # detached signature over the statement, base64
    fingerprint: Mapped[str]  # of the certificate it was made with
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    by: Mapped[Person] = relationship()


class Package(Record):
    """One revision of what is handed over, as it was frozen for signing."""

    __tablename__ = "package"
    __table_args__ = (
        UniqueConstraint("round_id", "revision", "attempt"),
        {"sqlite_strict": True},
    )

    round_id: Mapped[UUID] = mapped_column(ForeignKey("round.id"))
    revision: Mapped[int]
    attempt: Mapped[int]  # raised when the round changed after a first signature
    content_digest: Mapped[str]  # of the round's content, without time and log
    document: Mapped[str]  # the frozen document, canonical JSON
    made_at: Mapped[datetime]

    round: Mapped[Round] = relationship()
    files: Mapped[list["PackageFile"]] = relationship(
        back_populates="package", order_by="PackageFile.seq"
    )


class PackageFile(Record):
    """The package's PDF after each signature; the last one is the package."""

    __tablename__ = "package_file"
    __table_args__ = (
        UniqueConstraint("package_id", "seq"),
        {"sqlite_strict": True},
    )

    package_id: Mapped[UUID] = mapped_column(ForeignKey("package.id"))
    seq: Mapped[int]
    field: Mapped[str]  # the signature field that this file adds
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]
    sha256: Mapped[str]
    pdf: Mapped[bytes] = mapped_column(deferred=True)

    package: Mapped[Package] = relationship(back_populates="files")
    by: Mapped[Person] = relationship()


class SealWaiver(Record):
    """The lead's reason why a performer's signature on the package is not to be had."""

    __tablename__ = "seal_waiver"
    __table_args__ = (
        UniqueConstraint("round_id", "person_id"),
        {"sqlite_strict": True},
    )

    round_id: Mapped[UUID] = mapped_column(ForeignKey("round.id"))
    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    person: Mapped[Person] = relationship(foreign_keys=[person_id])
    by: Mapped[Person] = relationship(foreign_keys=[by_id])
