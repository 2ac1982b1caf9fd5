"""The plan of a round before it is opened, and what was changed in it, and why."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Apparatus, Cell, Lineup
from models.schema.base import Record
from models.schema.parties import Person
from models.schema.rounds import Card, Round


class PlanDraft(Record):
    """What a lead chose for the next round of a lineup; gone once it is opened."""

    __tablename__ = "plan_draft"

    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"), unique=True)
    kind: Mapped[str]
    programme: Mapped[str]
    choices: Mapped[dict[str, Any]]  # services.planning.choices
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]  # of the last change

    lineup: Mapped[Lineup] = relationship()
    by: Mapped[Person] = relationship()


class PlanChange(Record):
    """A card left out of the programme, added to it, or with other points.

    *card_id* is null where the card is left out; *was* are the labels of the points
    that the programme, or the baseline, gives the card.
    """

    __tablename__ = "plan_change"
    __table_args__ = (
        CheckConstraint("what IN ('left_out', 'added', 'points')", name="what"),
        CheckConstraint("(what = 'left_out') = (card_id IS NULL)", name="card"),
        {"sqlite_strict": True},
    )

    round_id: Mapped[UUID] = mapped_column(ForeignKey("round.id"), index=True)
    what: Mapped[str]
    cell_id: Mapped[UUID] = mapped_column(ForeignKey("cell.id"))  # where it was then
    apparatus_id: Mapped[UUID] = mapped_column(ForeignKey("apparatus.id"))
    procedure: Mapped[str]
    detail: Mapped[str]
    card_id: Mapped[UUID | None] = mapped_column(ForeignKey("card.id"))
    was: Mapped[list[Any]]
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    round: Mapped[Round] = relationship(back_populates="changes")
    cell: Mapped[Cell] = relationship()
    apparatus: Mapped[Apparatus] = relationship()
    card: Mapped[Card | None] = relationship()
    by: Mapped[Person] = relationship()
