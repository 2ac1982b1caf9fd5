"""Sites, lineups with their bus sections and cells, and the apparatus in them."""

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
    # How contact resistance is compared: a choice of the field of this name.
    contact_correction: Mapped[str] = mapped_column(
        default="to_20", server_default="to_20"
    )
    # Rule set and figures of safety, where they were chosen: services.safety.settings
    safety: Mapped[dict[str, Any]] = mapped_column(default=dict, server_default="{}")

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
    maker: Mapped[str | None]
    type: Mapped[str | None]
    serial: Mapped[str | None]
    built_year: Mapped[int | None]
    rated_kv: Mapped[float]  # rated maximum voltage
    rated_withstand_kv: Mapped[float | None]  # power frequency, from the nameplate
    rated_impulse_kv: Mapped[float | None]
    rated_a: Mapped[float | None]
    rated_ka: Mapped[float | None]  # short-time withstand current
    rated_s: Mapped[float | None]  # and its duration
    rated_hz: Mapped[float | None]
    housing: Mapped[str | None]  # indoor, outdoor
    altitude_m: Mapped[float | None]
    arc_type: Mapped[str | None]
    arc_ka: Mapped[float | None]
    arc_s: Mapped[float | None]
    gas: Mapped[str | None]
    gas_system: Mapped[str | None]
    level_ac_kv: Mapped[float | None]  # field level given for this gear
    level_dc_kv: Mapped[float | None]
    saved: Mapped[int] = mapped_column(server_default="1")  # how often: its version

    site: Mapped[Site] = relationship(back_populates="lineups")
    sections: Mapped[list["BusSection"]] = relationship(
        back_populates="lineup", order_by="BusSection.position"
    )
    cells: Mapped[list["Cell"]] = relationship(
        primaryjoin="and_(Lineup.id == Cell.lineup_id, Cell.removed.is_(False))",
        order_by="Cell.position",
        viewonly=True,
    )


class BusSection(Record):
    """One section of a lineup's bus; its cells name it."""

    __tablename__ = "bus_section"
    __table_args__ = (
        UniqueConstraint("lineup_id", "name"),
        {"sqlite_strict": True},
    )

    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"))
    position: Mapped[int]
    name: Mapped[str]
    rated_a: Mapped[float | None]

    lineup: Mapped[Lineup] = relationship(back_populates="sections")

    @property
    def label(self) -> str:
        """The section as a drawing names it, such as 'bus A · 2000 A'."""
        return (
            self.name if self.rated_a is None else f"{self.name} · {self.rated_a:g} A"
        )


class Cell(Record):
    """One vertical section of a lineup.

    One that is *removed* was entered and taken out again before anything was tested
    there: it stays for the history of what stood in it, and is shown nowhere.
    """

    __tablename__ = "cell"

    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"), index=True)
    position: Mapped[int]  # from the left, seen from the front
    number: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]  # the one-line symbol it is drawn with
    bus: Mapped[str]  # the name of its section
    tie_to: Mapped[str | None]  # the name of the section that it ties to
    removed: Mapped[bool] = mapped_column(default=False)

    lineup: Mapped[Lineup] = relationship()
    apparatus: Mapped[list["Apparatus"]] = relationship(
        back_populates="cell", order_by="Apparatus.position"
    )

    @property
    def bus_label(self) -> str:
        """Its section as a drawing names it, such as 'bus A · 2000 A'."""
        labels = {one.name: one.label for one in self.lineup.sections}
        return labels.get(self.bus, self.bus)


class Apparatus(Record):
    """One thing that is tested: in a cell, or without one on the site's spare shelf.

    What tells it from its like stands in columns, the rest of its nameplate in
    *nameplate*. One that is *removed* was entered and taken out again untested.
    """

    __tablename__ = "apparatus"

    site_id: Mapped[UUID] = mapped_column(ForeignKey("site.id"), index=True)
    cell_id: Mapped[UUID | None] = mapped_column(ForeignKey("cell.id"), index=True)
    position: Mapped[int]
    kind: Mapped[str]
    label: Mapped[str]
    maker: Mapped[str | None]
    type: Mapped[str | None]
    serial: Mapped[str | None]
    built_year: Mapped[int | None]
    nameplate: Mapped[dict[str, Any]]  # by kind: models.procedures.plates
    removed: Mapped[bool] = mapped_column(default=False)

    site: Mapped[Site] = relationship()
    cell: Mapped[Cell | None] = relationship(back_populates="apparatus")

    @property
    def where(self) -> str:
        """Where it stands now, in words."""
        return "spare shelf" if self.cell is None else f"cell {self.cell.number}"

    @property
    def stands_in(self) -> str:
        """Its cell's number and name, or the spare shelf."""
        cell = self.cell
        return "spare shelf" if cell is None else f"{cell.number} {cell.name}"

    @property
    def identity(self) -> dict[str, Any]:
        """Maker, type, serial number and year built, as far as they are known."""
        return {
            name: value
            for name in ("maker", "type", "serial", "built_year")
            if (value := getattr(self, name)) is not None
        }

    @property
    def plate(self) -> dict[str, Any]:
        """The whole nameplate, what tells it from its like first."""
        return {**self.identity, **self.nameplate}
