"""The register of instruments and their calibrations."""

from datetime import date
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record


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
    procedures: Mapped[list[Any]]  # names of the procedures it serves
    accuracy_pct: Mapped[float | None]  # half-width in percent of reading ...
    accuracy_fixed: Mapped[float | None]  # ... plus this much ...
    accuracy_unit: Mapped[str | None]  # ... in this unit
    supplies: Mapped[list[Any] | None]  # what it puts out: ac, dc, ...; None: not said
    greatest: Mapped[dict[str, Any] | None]  # the most it does or shows, by name

    calibrations: Mapped[list["Calibration"]] = relationship(
        back_populates="instrument", order_by="Calibration.calibrated_on"
    )


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
