"""What a second person answered to a decision of the lead: only ever added."""

from datetime import datetime
from typing import TYPE_CHECKING
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.parties import Person

if TYPE_CHECKING:
    from models.schema.findings import CardWithdrawal, Disposition


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
    disposition: Mapped["Disposition | None"] = relationship(back_populates="agreement")
    withdrawal: Mapped["CardWithdrawal | None"] = relationship(
        back_populates="agreement"
    )
