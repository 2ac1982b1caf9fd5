"""Deficiencies, their closing, what a lead decides, who agreed: only ever added."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.entries import Reading
from models.schema.parties import Person
from models.schema.rounds import Card


class Deficiency(Record):
    """Something to be put right."""

    __tablename__ = "deficiency"
    __table_args__ = (
        CheckConstraint(
            "severity IN ('stops_turnover', 'may_follow')", name="severity"
        ),
        UniqueConstraint("round_id", "number"),
        {"sqlite_strict": True},
    )

    round_id: Mapped[UUID] = mapped_column(ForeignKey("round.id"))
    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"))
    number: Mapped[int]  # within the round
    text: Mapped[str]
    severity: Mapped[str]
    holder: Mapped[str]  # who has to put it right
    reading_id: Mapped[UUID | None] = mapped_column(ForeignKey("reading.id"))
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]

    card: Mapped[Card] = relationship()
    by: Mapped[Person] = relationship()
    reading: Mapped[Reading | None] = relationship()
    closing: Mapped["DeficiencyClosing | None"] = relationship(
        back_populates="deficiency"
    )


class DeficiencyClosing(Record):
    """How a deficiency was put right, with the retest that shows it."""

    __tablename__ = "deficiency_closing"

    deficiency_id: Mapped[UUID] = mapped_column(
        ForeignKey("deficiency.id"), unique=True
    )
    reading_id: Mapped[UUID | None] = mapped_column(ForeignKey("reading.id"))
    text: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]

    deficiency: Mapped[Deficiency] = relationship(back_populates="closing")
    by: Mapped[Person] = relationship()


class Disposition(Record):
    """The lead's recorded decision on a reading that is not within."""

    __tablename__ = "disposition"
    __table_args__ = (
        CheckConstraint(
            "decision IN ('use_as_is', 'accept_with_limits', 'reject')",
            name="decision",
        ),
        {"sqlite_strict": True},
    )

    reading_id: Mapped[UUID] = mapped_column(ForeignKey("reading.id"), index=True)
    judgement_id: Mapped[UUID] = mapped_column(ForeignKey("judgement.id"))
    decision: Mapped[str]
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    reading: Mapped[Reading] = relationship()
    by: Mapped[Person] = relationship()
    agreement: Mapped["Agreement | None"] = relationship(back_populates="disposition")


class CardReturn(Record):
    """A card handed back by the lead; its signatures no longer hold."""

    __tablename__ = "card_return"

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"), index=True)
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    by: Mapped[Person] = relationship()


class CardWithdrawal(Record):
    """A card taken out of the programme by the lead; what is on it stays."""

    __tablename__ = "card_withdrawal"

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"), unique=True)
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    card: Mapped[Card] = relationship()
    by: Mapped[Person] = relationship()
    agreement: Mapped["Agreement | None"] = relationship(back_populates="withdrawal")


class Agreement(Record):
    """The answer to an outside reading let stand, or to a card withdrawn.

    The owner's person or a second lead gives it by name; a refusal has a reason, and
    takes the decision away.
    """

    __tablename__ = "agreement"
    __table_args__ = (
        CheckConstraint("answer IN ('agreed', 'refused')", name="answer"),
        CheckConstraint(
            "(disposition_id IS NULL) <> (withdrawal_id IS NULL)", name="subject"
        ),
        CheckConstraint("answer = 'agreed' OR reason IS NOT NULL", name="reason"),
        {"sqlite_strict": True},
    )

    disposition_id: Mapped[UUID | None] = mapped_column(
        ForeignKey("disposition.id"), unique=True
    )
    withdrawal_id: Mapped[UUID | None] = mapped_column(
        ForeignKey("card_withdrawal.id"), unique=True
    )
    answer: Mapped[str]
    reason: Mapped[str | None]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    by: Mapped[Person] = relationship()
    disposition: Mapped[Disposition | None] = relationship(back_populates="agreement")
    withdrawal: Mapped[CardWithdrawal | None] = relationship(back_populates="agreement")
