"""The register of instruments, what they can do, and their calibrations."""

from datetime import date
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Base, Record


class Instrument(Record):
    """An instrument or test set of a test firm."""

    __tablename__ = "instrument"
    __table_args__ = (
        UniqueConstraint("organisation_id", "tag"),
        {"sqlite_strict": True},
    )

    organisation_id: Mapped[UUID] = mapped_column(ForeignKey("organisation.id"))
    tag: Mapped[str]
    name: Mapped[str]
    serial: Mapped[str]
    maker: Mapped[str | None]
    type: Mapped[str | None]
    procedures: Mapped[list[Any]]  # names of the procedures it serves
    retired_on: Mapped[date | None]  # from this day it is offered no more

    ranges: Mapped[list["InstrumentRange"]] = relationship(
        order_by="InstrumentRange.position", cascade="all, delete-orphan"
    )
    calibrations: Mapped[list["Calibration"]] = relationship(
        back_populates="instrument", order_by="Calibration.calibrated_on"
    )


class InstrumentRange(Base):
    """A range that an instrument reads or applies, with what is stated of it.

    From *low* to *high* in *unit*; without both: not said how far. The half-width of
    the accuracy is `pct_reading` of reading, `pct_range` of *high*, *digits* times the
    *resolution*, and *fixed*, the last two in *unit*; all None: none is stated.
    """

    __tablename__ = "instrument_range"
    __table_args__ = (
        CheckConstraint("does IN ('reads', 'applies')", name="does"),
        CheckConstraint("supply IN ('ac', 'dc')", name="supply"),
        CheckConstraint("(low IS NULL) = (high IS NULL)", name="both_ends"),
        CheckConstraint("low < high", name="low_below_high"),
        {"sqlite_strict": True},
    )

    instrument_id: Mapped[UUID] = mapped_column(
        ForeignKey("instrument.id"), primary_key=True
    )
    position: Mapped[int] = mapped_column(primary_key=True)
    does: Mapped[str]  # reads, applies
    unit: Mapped[str | None]  # None: the unit of what is read
    supply: Mapped[str | None]  # ac, dc; None: either, or of no account
    low: Mapped[float | None]
    high: Mapped[float | None]
    pct_reading: Mapped[float | None]
    pct_range: Mapped[float | None]
    digits: Mapped[float | None]
    resolution: Mapped[float | None]
    fixed: Mapped[float | None]


class Calibration(Record):
    """One calibration; valid from its day to the day it falls due, both included."""

    __tablename__ = "calibration"
    __table_args__ = (
        CheckConstraint("calibrated_on < due_on", name="due_after"),
        {"sqlite_strict": True},
    )

    instrument_id: Mapped[UUID] = mapped_column(ForeignKey("instrument.id"), index=True)
    calibrated_on: Mapped[date]
    due_on: Mapped[date]
    certificate_no: Mapped[str]
    laboratory: Mapped[str]

    instrument: Mapped[Instrument] = relationship(back_populates="calibrations")
