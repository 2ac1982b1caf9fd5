"""Sites, lineups, cells and the apparatus in them."""

from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.parties import Organisation


class Site(Record):
    """A place with switchgear; times are shown in its zone."""

    __tablename__ = "site"

    owner_id: Mapped[UUID] = mapped_column(ForeignKey("organisation.id"), index=True)
    name: Mapped[str]
    address: Mapped[str]
    zone: Mapped[str]  # IANA name

    owner: Mapped[Organisation] = relationship()
    lineups: Mapped[list["Lineup"]] = relationship(
        back_populates="site", order_by="Lineup.name"
    )


class Lineup(Record):
    """One assembly of switchgear."""

    __tablename__ = "lineup"
    __table_args__ = (
        CheckConstraint(
            "gear IN ('metal_enclosed', 'metal_clad', 'gas_insulated')", name="gear"
        ),
        UniqueConstraint("site_id", "name"),
        {"sqlite_strict": True},
    )

    site_id: Mapped[UUID] = mapped_column(ForeignKey("site.id"))
    name: Mapped[str]
    gear: Mapped[str]
    rated_kv: Mapped[float]  # rated maximum voltage
    rated_withstand_kv: Mapped[float | None]  # power frequency, from the nameplate
    rated_impulse_kv: Mapped[float | None]
    rated_a: Mapped[float | None]
    rated_ka: Mapped[float | None]  # short-time withstand current
    rated_s: Mapped[float | None]  # and its duration
    rated_hz: Mapped[float | None]
    level_ac_kv: Mapped[float | None]  # field level given for this gear
    level_dc_kv: Mapped[float | None]
    built_year: Mapped[int | None]
    serial: Mapped[str | None]

    site: Mapped[Site] = relationship(back_populates="lineups")
    cells: Mapped[list["Cell"]] = relationship(
        back_populates="lineup", order_by="Cell.position"
    )


class Cell(Record):
    """One vertical section of a lineup."""

    __tablename__ = "cell"
    __table_args__ = (
        UniqueConstraint("lineup_id", "position"),
        {"sqlite_strict": True},
    )

    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"))
    position: Mapped[int]  # from the left, seen from the front
    number: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]  # the one-line symbol it is drawn with
    bus: Mapped[str]

    lineup: Mapped[Lineup] = relationship(back_populates="cells")
    apparatus: Mapped[list["Apparatus"]] = relationship(
        back_populates="cell", order_by="Apparatus.position"
    )


class Apparatus(Record):
    """One thing in a cell that is tested."""

    __tablename__ = "apparatus"
    __table_args__ = (
        UniqueConstraint("cell_id", "position"),
        {"sqlite_strict": True},
    )

    cell_id: Mapped[UUID] = mapped_column(ForeignKey("cell.id"))
    position: Mapped[int]
    kind: Mapped[str]
    label: Mapped[str]
    nameplate: Mapped[dict[str, Any]]  # by kind: services.setup.nameplate

    cell: Mapped[Cell] = relationship(back_populates="apparatus")
