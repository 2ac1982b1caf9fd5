"""Organisations, persons, their keys, and who may see which site."""

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.errors import ConflictError
from models.schema.base import Record


class Organisation(Record):
    """An owner of sites, or a firm that tests them."""

    __tablename__ = "organisation"
    __table_args__ = (
        CheckConstraint("kind IN ('owner', 'test_firm')", name="kind"),
        {"sqlite_strict": True},
    )

    kind: Mapped[str]
    name: Mapped[str] = mapped_column(unique=True)
    address: Mapped[str]


class Person(Record):
    """Somebody who signs in under a name that is never given to anyone else."""

    __tablename__ = "person"

    organisation_id: Mapped[UUID] = mapped_column(ForeignKey("organisation.id"))
    name: Mapped[str]
    sign_in: Mapped[str] = mapped_column(unique=True)
    password_hash: Mapped[str | None]  # none until they have enrolled
    session_epoch: Mapped[int]  # raised to end every session of this person
    active: Mapped[bool]
    created_at: Mapped[datetime]
    version: Mapped[int] = mapped_column(default=1, server_default="1")

    organisation: Mapped[Organisation] = relationship()
    keys: Mapped[list["SigningKey"]] = relationship(
        back_populates="person", order_by="SigningKey.created_at"
    )
    held_roles: Mapped[list["PersonRole"]] = relationship()
    assignments: Mapped[list["SiteAssignment"]] = relationship(
        back_populates="person", foreign_keys="SiteAssignment.person_id"
    )

    @property
    def key(self) -> "SigningKey":
        """The key they sign with now; ConflictError for who has not enrolled."""
        for one in self.keys:
            if one.revoked_at is None:
                return one
        raise ConflictError(f"{self.name} has not enrolled: there is no key yet.")

    @property
    def enrolled(self) -> bool:
        """Whether they have chosen a password, and got their key with it."""
        return self.password_hash is not None

    @property
    def roles(self) -> frozenset[str]:
        """The roles held now."""
        return frozenset(one.role for one in self.held_roles if one.until is None)

    def roles_at(self, at: datetime) -> frozenset[str]:
        """Return the roles held at this time."""
        return frozenset(
            one.role
            for one in self.held_roles
            if one.since <= at and (one.until is None or at < one.until)
        )


class PersonRole(Record):
    """A role that a person holds, or held until a time: rows stay as history."""

    __tablename__ = "person_role"
    __table_args__ = (
        CheckConstraint(
            "role IN ('technician', 'lead', 'owner', 'administrator')", name="role"
        ),
        Index(
            "uq_person_role_held",
            "person_id",
            "role",
            unique=True,
            sqlite_where=text("until IS NULL"),
            postgresql_where=text("until IS NULL"),
        ),
        {"sqlite_strict": True},
    )

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), index=True)
    role: Mapped[str]
    since: Mapped[datetime]
    until: Mapped[datetime | None]


class Authority(Record):
    """The installation's own certificate authority: one row."""

    __tablename__ = "authority"

    certificate_pem: Mapped[str]
    wrapped_key: Mapped[str]  # opened by the installation's secret
    created_at: Mapped[datetime]


class SigningKey(Record):
    """A person's private key, wrapped so that only their password opens it.

    Those from before a reset stay: what was signed with them is held to them.
    """

    __tablename__ = "signing_key"
    __table_args__ = (
        Index(
            "uq_signing_key_current",
            "person_id",
            unique=True,
            sqlite_where=text("revoked_at IS NULL"),
            postgresql_where=text("revoked_at IS NULL"),
        ),
        {"sqlite_strict": True},
    )

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), index=True)
    certificate_pem: Mapped[str]
    wrapped_key: Mapped[str]
    created_at: Mapped[datetime]
    revoked_at: Mapped[datetime | None]  # nothing signed from then on holds

    person: Mapped[Person] = relationship(back_populates="keys")


class SiteAssignment(Record):
    """This person of a test firm works on this site, from day to day."""

    __tablename__ = "site_assignment"
    __table_args__ = (
        CheckConstraint("until_day IS NULL OR from_day <= until_day", name="days"),
        {"sqlite_strict": True},
    )

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), index=True)
    site_id: Mapped[UUID] = mapped_column(ForeignKey("site.id"), index=True)
    from_day: Mapped[date]  # both in the site's zone, the last one included
    until_day: Mapped[date | None]
    made_at: Mapped[datetime]
    made_by_id: Mapped[UUID | None] = mapped_column(ForeignKey("person.id"))

    person: Mapped[Person] = relationship(
        back_populates="assignments", foreign_keys=[person_id]
    )
    site: Mapped[Any] = relationship("Site", lazy="joined")  # whose day counts


class Invitation(Record):
    """A one-time link with which a person chooses their own password."""

    __tablename__ = "invitation"
    __table_args__ = (
        CheckConstraint("kind IN ('enrol', 'reset')", name="kind"),
        {"sqlite_strict": True},
    )

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), index=True)
    kind: Mapped[str]
    token_sha256: Mapped[str] = mapped_column(unique=True)  # the link holds the token
    made_at: Mapped[datetime]
    made_by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    ends_at: Mapped[datetime]
    used_at: Mapped[datetime | None]
    withdrawn_at: Mapped[datetime | None]

    person: Mapped[Person] = relationship(foreign_keys=[person_id])
    made_by: Mapped[Person] = relationship(foreign_keys=[made_by_id])
