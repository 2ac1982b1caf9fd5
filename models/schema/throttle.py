"""Tries at a password or a code, counted so that guessing takes ever longer."""

from datetime import datetime

from sqlalchemy.orm import Mapped, mapped_column

from models.schema.base import Base


class Throttle(Base):
    """How many tries were counted under one key; a row is forgotten at its end."""

    __tablename__ = "throttle"

    key: Mapped[str] = mapped_column(primary_key=True)  # a digest: what was typed
    # as a name may be somebody's password
    tries: Mapped[int]
    free_at: Mapped[datetime]  # no try is let through before
    ends: Mapped[datetime] = mapped_column(index=True)
