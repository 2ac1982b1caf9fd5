"""The plan of a round before it is opened."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from models.schema.assets import Lineup
from models.schema.base import Record
from models.schema.parties import Person


class PlanDraft(Record):
    """What a lead chose for the next round of a lineup; gone once it is opened."""

    __tablename__ = "plan_draft"

    lineup_id: Mapped[UUID] = mapped_column(ForeignKey("lineup.id"), unique=True)
    kind: Mapped[str]
    programme: Mapped[str]
    choices: Mapped[dict[str, Any]]  # services.planning.choices
    by_id: Mapped[UUID] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]  # of the last change

    lineup: Mapped[Lineup] = relationship()
    by: Mapped[Person] = relationship()
