"""Rules, each stored once."""

from typing import Any

from sqlalchemy.orm import Mapped, mapped_column

from models.schema.base import Base


class StoredRule(Base):
    """A rule under its digest: the SHA-256 of its canonical JSON, in hex.

    `services.keeping.rules` stores and reads them.
    """

    __tablename__ = "rule"

    digest: Mapped[str] = mapped_column(primary_key=True)
    body: Mapped[dict[str, Any]]
