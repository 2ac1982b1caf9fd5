"""Criteria given for the scenario's lineup; the documents are invented."""

from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.services.criteria.criterion_draft import Scope, Wording
from models.services.criteria.give_criterion import (
    change_criterion,
    give_criterion,
    withdraw_criterion,
)
from tests.scenario import BEGAN, LEAD, Cast, lineup_id

PAPERS = {
    "project": Wording(
        text="35",
        unit="uOhm",
        document="Project specification PS-7",
        edition="revision C",
        clause="clause 6.2",
        reason="The owner's project asks for it.",
    ),
    "maker": Wording(
        text="40",
        unit="uOhm",
        document="Instruction book IB-31",
        edition="edition 4",
        clause="page 12",
        reason="The book came with the breakers.",
    ),
}


def give(
    session: Session,
    *,
    standing: str = "project",
    scope: Scope | None = None,
    quantity: str = "contact_limit",
    by: Cast = LEAD,
    at: datetime = BEGAN,
    **wording: Any,
) -> UUID:
    """Give a criterion for every breaker, unless said otherwise; return its id."""
    key = uuid4()
    give_criterion(
        session,
        person_id=by.id,
        lineup_id=lineup_id(),
        criterion_id=key,
        scope=scope or Scope(apparatus_kind="breaker"),
        quantity=quantity,
        standing=standing,
        wording=replace(PAPERS.get(standing, PAPERS["maker"]), **wording),
        now=at,
    )
    return key


def change(
    session: Session,
    criterion_id: UUID,
    *,
    seen: int = 1,
    by: Cast = LEAD,
    at: datetime = BEGAN,
    **wording: Any,
) -> None:
    """Put a new version in the place of the last."""
    change_criterion(
        session,
        person_id=by.id,
        criterion_id=criterion_id,
        version_id=uuid4(),
        seen=seen,
        wording=replace(PAPERS["project"], **wording),
        now=at,
    )


def withdraw(
    session: Session,
    criterion_id: UUID,
    *,
    seen: int = 1,
    by: Cast = LEAD,
    at: datetime = BEGAN,
    document: str = "Letter L-9",
    reason: str = "The project dropped it.",
) -> None:
    """Withdraw a criterion."""
    withdraw_criterion(
        session,
        person_id=by.id,
        criterion_id=criterion_id,
        version_id=uuid4(),
        seen=seen,
        document=document,
        reason=reason,
        now=at,
    )
