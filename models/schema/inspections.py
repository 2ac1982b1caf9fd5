"""Hold, witness and review points: whom a card waits for, and what came of it."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.parties import Person
from models.schema.rounds import Card


class InspectionPoint(Record):
    """A card waits for somebody: to release it, to be present, or to review it."""

    __tablename__ = "inspection_point"
    __table_args__ = (
        CheckConstraint("kind IN ('hold', 'witness', 'review')", name="kind"),
        CheckConstraint("notice_hours >= 0", name="notice"),
        {"sqlite_strict": True},
    )

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"), index=True)
    kind: Mapped[str]
    party: Mapped[str]  # who, in words: name and firm
    # The same with an account of their own, who then answers for themselves.
    person_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))
    notice_hours: Mapped[float]  # between a notice and the work
    reason: Mapped[str]  # the clause of the contract, or why
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    card: Mapped[Card] = relationship()
    person: Mapped[Person | None] = relationship(foreign_keys=person_id)
    by: Mapped[Person] = relationship(foreign_keys=by_id)
    notices: Mapped[list["InspectionNotice"]] = relationship(
        back_populates="point",
        order_by="(InspectionNotice.at, InspectionNotice.id)",
    )
    answer: Mapped["InspectionAnswer | None"] = relationship(back_populates="point")


class InspectionNotice(Record):
    """The party was told when the work is done; the program tells nobody itself."""

    __tablename__ = "inspection_notice"

    point_id: Mapped[UUID] = mapped_column(
        ForeignKey("inspection_point.id"), index=True
    )
    work_at: Mapped[datetime]  # when the work is to be done
    given_at: Mapped[datetime]
    how: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    point: Mapped[InspectionPoint] = relationship(back_populates="notices")
    by: Mapped[Person] = relationship()


class InspectionAnswer(Record):
    """What came of a point: one answer, which stays.

    *by* is the party itself, or who recorded it for a party without an account.
    """

    __tablename__ = "inspection_answer"
    __table_args__ = (
        CheckConstraint(
            "answer IN ('released', 'present', 'absent', 'reviewed', 'withdrawn')",
            name="answer",
        ),
        {"sqlite_strict": True},
    )

    point_id: Mapped[UUID] = mapped_column(
        ForeignKey("inspection_point.id"), unique=True
    )
    answer: Mapped[str]
    remark: Mapped[str | None]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    point: Mapped[InspectionPoint] = relationship(back_populates="answer")
    by: Mapped[Person] = relationship()
