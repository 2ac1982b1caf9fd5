"""Tablets: which there are, which rounds each took along, what was decided."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Base, Record
from models.schema.parties import Person
from models.schema.rounds import Round


class Tablet(Record):
    """A tablet, or another browser, under the id that it made for itself."""

    __tablename__ = "tablet"

    label: Mapped[str]  # as it stands beside readings, such as "tablet 7f3a"
    program: Mapped[str]  # version of the program that it last ran
    browser: Mapped[str]
    first_at: Mapped[datetime]
    last_at: Mapped[datetime]
    last_by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))

    last_by: Mapped[Person] = relationship()
    acts: Mapped[list["TabletAct"]] = relationship(
        order_by="TabletAct.at, TabletAct.id", back_populates="tablet"
    )


class TabletShare(Base):
    """The server's half of what opens a person's unsent entries on a tablet.

    Given to that person's session only; never exported and never in the log.
    """

    __tablename__ = "tablet_share"

    tablet_id: Mapped[UUID] = mapped_column(ForeignKey("tablet.id"), primary_key=True)
    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), primary_key=True)
    share: Mapped[bytes]  # 32 random bytes
    made_at: Mapped[datetime]


class TabletRound(Base):
    """A round that somebody took along on a tablet, and what was told of it last."""

    __tablename__ = "tablet_round"

    tablet_id: Mapped[UUID] = mapped_column(ForeignKey("tablet.id"), primary_key=True)
    round_id: Mapped[UUID] = mapped_column(
        ForeignKey("round.id"), primary_key=True, index=True
    )
    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), primary_key=True)
    taken_at: Mapped[datetime]
    given_back_at: Mapped[datetime | None]
    entries: Mapped[int]  # unsent, as it was told last
    photos: Mapped[int]
    intents: Mapped[int]  # signatures that wait for signal
    oldest_at: Mapped[datetime | None]  # of what is unsent
    told_at: Mapped[datetime]

    tablet: Mapped[Tablet] = relationship()
    round: Mapped[Round] = relationship()
    person: Mapped[Person] = relationship()


class TabletAct(Record):
    """What somebody decided about a tablet, with a reason; only ever added.

    revoke and admit are about the tablet, release about its wait for one round.
    """

    __tablename__ = "tablet_act"
    __table_args__ = (
        CheckConstraint("act IN ('revoke', 'admit', 'release')", name="act"),
        CheckConstraint("(act = 'release') = (round_id IS NOT NULL)", name="round"),
        {"sqlite_strict": True},
    )

    tablet_id: Mapped[UUID] = mapped_column(ForeignKey("tablet.id"), index=True)
    round_id: Mapped[UUID | None] = mapped_column(ForeignKey("round.id"), index=True)
    act: Mapped[str]
    reason: Mapped[str]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    tablet: Mapped[Tablet] = relationship(back_populates="acts")
    by: Mapped[Person] = relationship()
