"""Which edition is used, and each act of judging again: only ever added."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Site
from models.schema.base import Record
from models.schema.parties import Organisation, Person


class EditionChoice(Record):
    """Which print of a table is used for an owner's sites, or for one of them.

    The newest version of a place (owner, site, table) holds. A choice for a site
    goes before the owner's; *print_key* None ends a choice: then the owner's
    holds again, and without one the default print.
    """

    __tablename__ = "edition_choice"
    __table_args__ = (
        CheckConstraint("version >= 1", name="version"),
        Index("ix_edition_choice_owner_id_table_key", "owner_id", "table_key"),
        {"sqlite_strict": True},
    )

    owner_id: Mapped[UUID] = mapped_column(ForeignKey("organisation.id"))
    site_id: Mapped[UUID | None] = mapped_column(ForeignKey("site.id"))
    table_key: Mapped[str]  # of the default print
    print_key: Mapped[str | None]
    document: Mapped[str]  # that says so: a specification, a letter
    reason: Mapped[str]
    version: Mapped[int]
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    owner: Mapped[Organisation] = relationship()
    site: Mapped[Site | None] = relationship()
    by: Mapped[Person] = relationship()


class Rejudging(Record):
    """One act of judging readings again by the criteria in force on that day."""

    __tablename__ = "rejudging"
    __table_args__ = (
        CheckConstraint("scope IN ('lineup', 'site', 'owner')", name="scope"),
        {"sqlite_strict": True},
    )

    scope: Mapped[str]
    subject_id: Mapped[UUID]  # of the lineup, the site or the owner
    what: Mapped[str]  # the editions in use, in words
    reason: Mapped[str]
    counts: Mapped[dict[str, Any]]
    digest: Mapped[str]  # of the preview that was confirmed
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]

    by: Mapped[Person] = relationship()
