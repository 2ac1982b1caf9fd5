"""Organisations, persons, their keys, and who may see which site."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.base import Base, Record


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
    password_hash: Mapped[str]
    session_epoch: Mapped[int]  # raised to end every session of this person
    active: Mapped[bool]
    created_at: Mapped[datetime]

    organisation: Mapped[Organisation] = relationship()
    key: Mapped["SigningKey"] = relationship(back_populates="person")
    held_roles: Mapped[list["PersonRole"]] = relationship()

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
    """A person's private key, wrapped so that only their password opens it."""

    __tablename__ = "signing_key"

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), unique=True)
    certificate_pem: Mapped[str]
    wrapped_key: Mapped[str]
    created_at: Mapped[datetime]

    person: Mapped[Person] = relationship(back_populates="key")


class SiteAssignment(Base):
    """This person of a test firm works on this site."""

    __tablename__ = "site_assignment"

    person_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"), primary_key=True)
    site_id: Mapped[UUID] = mapped_column(ForeignKey("site.id"), primary_key=True)
    since: Mapped[datetime]
