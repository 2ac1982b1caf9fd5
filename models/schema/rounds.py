"""Rounds, their cards and points, and what the plan of a round changed."""

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint, false
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Apparatus, Cell, Lineup
from models.schema.base import Record
from models.schema.parties import Person
from models.schema.rules import StoredRule


class Round(Record):
    """One campaign of tests on a lineup."""

    __tablename__ = "round"
    __table_args__ = (
        CheckConstraint("kind IN ('acceptance', 'maintenance')", name="kind"),
        CheckConstraint("state IN ('open', 'approved', 'accepted')", name="state"),
        CheckConstraint(
            "outside_let_stand IN ('does_not_conform', 'deviation')",
            name="outside_let_stand",
        ),
        UniqueConstraint("lineup_id", "kind", "number"),
        {"sqlite_strict": True},
    )

    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"))
    kind: Mapped[str]
    number: Mapped[int]
    programme: Mapped[str]
    state: Mapped[str]
    revision: Mapped[int]
    # What the package says of an outside reading that is let stand and agreed to.
    outside_let_stand: Mapped[str] = mapped_column(server_default="does_not_conform")
    # The editions that were asked for when it was planned: table, print, document.
    editions: Mapped[list[Any]] = mapped_column(server_default="[]", default=list)
    # Whether its cards are confirmed one by one, by the list in force before scopes.
    earlier_list: Mapped[bool] = mapped_column(default=False, server_default=false())
    opened_at: Mapped[datetime]
    opened_by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))

    lineup: Mapped[Lineup] = relationship()
    opened_by: Mapped[Person] = relationship()
    cards: Mapped[list["Card"]] = relationship(
        back_populates="round", order_by="Card.position"
    )
    changes: Mapped[list["PlanChange"]] = relationship(
        back_populates="round", order_by="(PlanChange.at, PlanChange.id)"
    )

    @property
    def title(self) -> str:
        """The round's name for people, such as 'Acceptance round 1'."""
        return f"{self.kind.capitalize()} round {self.number}"


class Card(Record):
    """One procedure on one apparatus in one round."""

    __tablename__ = "card"
    __table_args__ = (
        UniqueConstraint("round_id", "position"),
        {"sqlite_strict": True},
    )

    round_id: Mapped[UUID] = mapped_column(ForeignKey("round.id"))
    apparatus_id: Mapped[UUID] = mapped_column(ForeignKey("apparatus.id"))
    cell_id: Mapped[UUID] = mapped_column(ForeignKey("cell.id"))  # where it is tested
    position: Mapped[int]
    procedure: Mapped[str]
    detail: Mapped[str]
    unit: Mapped[str]
    defaults: Mapped[dict[str, Any]]  # conditions to start from
    assigned_to_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    planned_on: Mapped[date | None]  # a day of the site

    round: Mapped[Round] = relationship(back_populates="cards")
    apparatus: Mapped[Apparatus] = relationship()
    cell: Mapped[Cell] = relationship()
    assigned_to: Mapped[Person | None] = relationship()
    points: Mapped[list["Point"]] = relationship(
        back_populates="card", order_by="Point.position"
    )


class Point(Record):
    """Where a reading is taken, with the rule that it is judged by."""

    __tablename__ = "point"
    __table_args__ = (
        UniqueConstraint("card_id", "position"),
        {"sqlite_strict": True},
    )

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"))
    position: Mapped[int]
    label: Mapped[str]
    group: Mapped[str]  # readings of one group are compared with each other
    given: Mapped[dict[str, Any]]  # conditions fixed by the programme
    rule_digest: Mapped[str] = mapped_column(ForeignKey("rule.digest"))

    card: Mapped[Card] = relationship(back_populates="points")
    stored_rule: Mapped[StoredRule] = relationship()

    @property
    def rule(self) -> dict[str, Any]:
        """The rule that readings taken here are judged by."""
        return self.stored_rule.body


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
