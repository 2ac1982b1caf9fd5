"""Acts of safety: what somebody stated or did on a site; only ever added."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Site
from models.schema.base import Record
from models.schema.parties import Person


class SafetyAct(Record):
    """One act; its id is the key that the tablet made.

    *of_id* is what it is about: a crew, an isolation, a cell, a card or a stop.
    *lineup_id* is null where the act concerns the whole site: a crew, who enters
    which cell, a stop. *span* stands on the acts that open or end a crew, an
    isolation or a stop, so that those in force are found without the rest.
    *seq* counts a site's acts as they arrive. *body* holds the other members of
    `models.record.shapes.safety`. *by* is who was signed in: nobody where a stop was
    pressed signed out; *person_name* is who says it, where that is somebody else.
    """

    __tablename__ = "safety_act"
    __table_args__ = (
        CheckConstraint("by_id IS NOT NULL OR act = 'stop'", name="by"),
        CheckConstraint("span IN ('crew', 'isolation', 'stop')", name="span"),
        UniqueConstraint("site_id", "seq"),
        Index(
            "ix_safety_act_span",
            "site_id",
            "span",
            "at",
            sqlite_where=text("span IS NOT NULL"),
            postgresql_where=text("span IS NOT NULL"),
        ),
        Index(
            "ix_safety_act_round",
            "round_id",
            "seq",
            sqlite_where=text("round_id IS NOT NULL"),
            postgresql_where=text("round_id IS NOT NULL"),
        ),
        Index(
            "ix_safety_act_card_id",
            "card_id",
            sqlite_where=text("card_id IS NOT NULL"),
            postgresql_where=text("card_id IS NOT NULL"),
        ),
        {"sqlite_strict": True},
    )

    site_id: Mapped[UUID] = mapped_column(ForeignKey("site.id"))
    lineup_id: Mapped[UUID | None] = mapped_column(ForeignKey("lineup.id"))
    round_id: Mapped[UUID | None] = mapped_column(ForeignKey("round.id"))
    seq: Mapped[int]
    act: Mapped[str]
    span: Mapped[str | None]
    scope: Mapped[str | None]
    of_id: Mapped[UUID]
    card_id: Mapped[UUID | None] = mapped_column(ForeignKey("card.id"))
    cell_id: Mapped[UUID | None] = mapped_column(ForeignKey("cell.id"))
    code: Mapped[str | None]
    by_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    person_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    person_name: Mapped[str | None]
    device: Mapped[str]
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]
    body: Mapped[dict[str, Any]]

    site: Mapped[Site] = relationship()
    by: Mapped[Person | None] = relationship(foreign_keys=by_id)

    @property
    def by_name(self) -> str | None:
        """The name of who was signed in."""
        return self.by.name if self.by else None
