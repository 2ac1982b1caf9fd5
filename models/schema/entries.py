"""What people put on a card: only ever added, never changed."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import (
    JSON,
    CheckConstraint,
    ForeignKey,
    UniqueConstraint,
    false,
)
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Record
from models.schema.instruments import Calibration, Instrument
from models.schema.judging_again import Rejudging
from models.schema.parties import Person
from models.schema.rounds import Card, Point
from models.schema.rules import StoredRule


class Receipt(Record):
    """An entry's key as made on the tablet, with the digest of what it carried.

    A known key with the same digest is accepted again, quietly; with another
    digest it is a conflict. That makes a lost answer harmless.
    """

    __tablename__ = "receipt"

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    digest: Mapped[str]
    received_at: Mapped[datetime]


BY_EYE = "by eye"  # in the place of an instrument's tag


class Reading(Record):
    """What an instrument showed at one point, as typed, with its conditions."""

    __tablename__ = "reading"
    __table_args__ = (
        CheckConstraint("low IS NULL OR high IS NULL OR low <= high", name="interval"),
        CheckConstraint(
            "supersedes_id IS NULL OR reason IS NOT NULL", name="superseding_reason"
        ),
        UniqueConstraint("supersedes_id"),
        {"sqlite_strict": True},
    )

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"), index=True)
    point_id: Mapped[UUID] = mapped_column(ForeignKey("point.id"), index=True)
    text: Mapped[str]
    unit: Mapped[str | None]  # None: an outcome such as "held"
    low: Mapped[float | None]
    high: Mapped[float | None]  # None: the instrument went off scale
    outcome: Mapped[str | None]
    conditions: Mapped[dict[str, Any]]
    # None: the procedure is done by eye
    instrument_id: Mapped[UUID | None] = mapped_column(ForeignKey("instrument.id"))
    calibration_id: Mapped[UUID | None] = mapped_column(ForeignKey("calibration.id"))
    accuracy: Mapped[dict[str, Any]]  # of the instrument on that day
    rule_digest: Mapped[str] = mapped_column(ForeignKey("rule.digest"))
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    device: Mapped[str]
    taken_at: Mapped[datetime]
    arrived_at: Mapped[datetime]
    supersedes_id: Mapped[UUID | None] = mapped_column(ForeignKey("reading.id"))
    reason: Mapped[str | None]

    card: Mapped[Card] = relationship()
    point: Mapped[Point] = relationship()
    by: Mapped[Person] = relationship()
    instrument: Mapped[Instrument | None] = relationship()
    calibration: Mapped[Calibration | None] = relationship()
    stored_rule: Mapped[StoredRule] = relationship()
    judgements: Mapped[list["Judgement"]] = relationship(
        back_populates="reading", order_by="Judgement.seq"
    )

    @property
    def calibrated(self) -> bool:
        """Whether no instrument out of calibration on that day took part."""
        return self.instrument_id is None or self.calibration_id is not None

    @property
    def read_with(self) -> str:
        """The tag of its instrument, or that it was done by eye."""
        return BY_EYE if self.instrument is None else self.instrument.tag

    @property
    def judgement(self) -> "Judgement":
        """The verdict that holds in the round: once turned over, it stays."""
        return next(j for j in reversed(self.judgements) if not j.after_turnover)

    @property
    def judged_again(self) -> "Judgement | None":
        """The newest verdict that was given after the round was turned over."""
        last = self.judgements[-1]
        return last if last.after_turnover else None

    @property
    def rule(self) -> dict[str, Any]:
        """The rule of its point when it arrived."""
        return self.stored_rule.body

    @property
    def rule_in_force(self) -> StoredRule:
        """The rule of the verdict that holds; before there is one, its own."""
        return self.judgement.judged_by if self.judgements else self.stored_rule

    @property
    def arrived(self) -> int:
        """The number of the log entry that it came with."""
        return self.judgements[0].log_seq


class Judgement(Record):
    """A verdict on a reading, with its numbers; the last one holds, the rest stay.

    A reading that is compared with others of its group is judged anew when
    another of them arrives. Judging again by other criteria is an act of its own
    (*rejudging*), with a rule of its own; None is the reading's. Once a round is
    turned over its verdicts stay: those given later stand beside them.
    Reason, working and sources are worked out when somebody looks
    (`services.field.working_out`). *corrected*, the limits and the uncertainty
    are in the rule's unit.
    """

    __tablename__ = "judgement"
    __table_args__ = (
        CheckConstraint(
            "verdict IN ('within', 'marginal', 'outside', 'unjudged')", name="verdict"
        ),
        UniqueConstraint("reading_id", "seq"),
        {"sqlite_strict": True},
    )

    reading_id: Mapped[UUID] = mapped_column(ForeignKey("reading.id"))
    seq: Mapped[int]
    at: Mapped[datetime]
    log_seq: Mapped[int]  # the number of the log entry that it came with
    verdict: Mapped[str]
    corrected: Mapped[float | None]
    limit_low: Mapped[float | None]
    limit_high: Mapped[float | None]
    uncertainty: Mapped[float | None]
    rejudging_id: Mapped[UUID | None] = mapped_column(
        ForeignKey("rejudging.id"), index=True
    )
    rule_digest: Mapped[str | None] = mapped_column(ForeignKey("rule.digest"))
    after_turnover: Mapped[bool] = mapped_column(default=False, server_default=false())
    # Of judging again before revision 0007 alone: the log holds a digest over it.
    as_said: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True))

    reading: Mapped[Reading] = relationship(back_populates="judgements")
    rejudging: Mapped[Rejudging | None] = relationship()
    own_rule: Mapped[StoredRule | None] = relationship()

    @property
    def judged_by(self) -> StoredRule:
        """The rule that gave this verdict."""
        return self.own_rule or self.reading.stored_rule

    @property
    def numbers(self) -> tuple[Any, ...]:
        """The verdict, the corrected value, both limits and U."""
        return (
            self.verdict,
            self.corrected,
            self.limit_low,
            self.limit_high,
            self.uncertainty,
        )


class Note(Record):
    """A remark on a card."""

    __tablename__ = "note"

    card_id: Mapped[UUID] = mapped_column(ForeignKey("card.id"), index=True)
    text: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]

    by: Mapped[Person] = relationship()
