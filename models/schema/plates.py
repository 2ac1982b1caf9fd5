"""What nameplates said and say, who confirmed them, and where apparatus was."""

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Apparatus, Cell, Lineup
from models.schema.base import Record
from models.schema.parties import Person


class NameplateVersion(Record):
    """A nameplate as somebody entered it: that of an apparatus, or of a lineup.

    The highest number holds. What stood there before versions were kept has neither a
    person nor a time.
    """

    __tablename__ = "nameplate_version"
    __table_args__ = (
        CheckConstraint("(lineup_id IS NULL) <> (apparatus_id IS NULL)", name="of"),
        CheckConstraint("(by_id IS NULL) = (at IS NULL)", name="entered"),
        UniqueConstraint("lineup_id", "number"),
        UniqueConstraint("apparatus_id", "number"),
        {"sqlite_strict": True},
    )

    lineup_id: Mapped[UUID | None] = mapped_column(ForeignKey("lineup.id"))
    apparatus_id: Mapped[UUID | None] = mapped_column(ForeignKey("apparatus.id"))
    number: Mapped[int]
    plate: Mapped[dict[str, Any]]
    reason: Mapped[str]
    by_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime | None]

    lineup: Mapped[Lineup | None] = relationship()
    apparatus: Mapped[Apparatus | None] = relationship()
    by: Mapped[Person | None] = relationship()
    confirmation: Mapped["NameplateConfirmation | None"] = relationship(
        back_populates="version"
    )


class NameplateConfirmation(Record):
    """Somebody else compared a version with the metal plate, and it is so."""

    __tablename__ = "nameplate_confirmation"
    __table_args__ = (UniqueConstraint("version_id"), {"sqlite_strict": True})

    version_id: Mapped[UUID] = mapped_column(ForeignKey("nameplate_version.id"))
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    version: Mapped[NameplateVersion] = relationship(back_populates="confirmation")
    by: Mapped[Person] = relationship()


class Placement(Record):
    """Where an apparatus is from a day on; without a cell: on the spare shelf.

    The first placement, of when it was entered, has no day: it may have stood there
    for years. What stood there before placements were kept has no person either.
    """

    __tablename__ = "placement"
    __table_args__ = (
        CheckConstraint("(by_id IS NULL) = (at IS NULL)", name="entered"),
        UniqueConstraint("apparatus_id", "number"),
        {"sqlite_strict": True},
    )

    apparatus_id: Mapped[UUID] = mapped_column(ForeignKey("apparatus.id"))
    number: Mapped[int]
    cell_id: Mapped[UUID | None] = mapped_column(ForeignKey("cell.id"))
    from_day: Mapped[date | None]  # at the site
    reason: Mapped[str]
    by_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime | None]

    apparatus: Mapped[Apparatus] = relationship()
    cell: Mapped[Cell | None] = relationship()
    by: Mapped[Person | None] = relationship()
