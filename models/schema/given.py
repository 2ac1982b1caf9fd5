"""Criteria that a maker or a project gives for a lineup: added, never changed."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Apparatus, Lineup
from models.schema.base import Record
from models.schema.parties import Person


class GivenCriterion(Record):
    """One version of a criterion; its versions share *criterion_id*.

    That is the id of the first of them. It is given for one apparatus, for a kind of
    apparatus, or, with neither, for the whole lineup. The last version holds; one
    that is withdrawn repeats the figure that holds no more.
    """

    __tablename__ = "given_criterion"
    __table_args__ = (
        CheckConstraint("standing IN ('maker', 'project')", name="standing"),
        CheckConstraint(
            "apparatus_id IS NULL OR apparatus_kind IS NULL", name="one_scope"
        ),
        CheckConstraint("(version = 1) = (supersedes_id IS NULL)", name="first"),
        CheckConstraint("version > 1 OR NOT withdrawn", name="withdrawn"),
        UniqueConstraint("criterion_id", "version"),
        UniqueConstraint("supersedes_id"),
        {"sqlite_strict": True},
    )

    criterion_id: Mapped[UUID] = mapped_column(ForeignKey("given_criterion.id"))
    version: Mapped[int]
    supersedes_id: Mapped[UUID | None] = mapped_column(ForeignKey("given_criterion.id"))
    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"), index=True)
    apparatus_kind: Mapped[str | None]
    apparatus_id: Mapped[UUID | None] = mapped_column(ForeignKey("apparatus.id"))
    quantity: Mapped[str]  # models.procedures.GIVABLE
    standing: Mapped[str]
    text: Mapped[str]  # the figure as typed, in *unit*
    unit: Mapped[str]
    document: Mapped[str]
    edition: Mapped[str]
    clause: Mapped[str]
    reason: Mapped[str]
    withdrawn: Mapped[bool]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    lineup: Mapped[Lineup] = relationship()
    apparatus: Mapped[Apparatus | None] = relationship()
    by: Mapped[Person] = relationship()
