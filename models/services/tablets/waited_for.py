"""Tablets that a round waits for: they took it along and have not given it back."""

from collections.abc import Sequence
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.schema import TabletAct, TabletRound


def held_of_round(session: Session, round_id: UUID) -> list[TabletRound]:
    """Return who holds the round on which tablet, the longest first."""
    return list(
        session.scalars(
            select(TabletRound)
            .where(TabletRound.round_id == round_id)
            .order_by(TabletRound.taken_at, TabletRound.tablet_id)
            .options(joinedload(TabletRound.tablet), joinedload(TabletRound.person))
        )
    )


def releases_of_round(session: Session, round_id: UUID) -> list[TabletAct]:
    """Return what released the round from a tablet, in the order of time."""
    return list(
        session.scalars(
            select(TabletAct)
            .where(TabletAct.round_id == round_id, TabletAct.act == "release")
            .order_by(TabletAct.at, TabletAct.id)
            .options(joinedload(TabletAct.tablet), joinedload(TabletAct.by))
        )
    )


def unsent(held: TabletRound) -> int:
    """Return how much was unsent as the tablet last told."""
    return held.entries + held.photos + held.intents


def is_waited_for(held: TabletRound, releases: Sequence[TabletAct]) -> bool:
    """Return whether the round waits for the tablet.

    A release holds for what was taken along before it; whoever takes the round along
    again is waited for again.
    """
    if held.given_back_at is not None and not unsent(held):
        return False
    return not any(
        act.tablet_id == held.tablet_id and act.at >= held.taken_at for act in releases
    )


def waited_for(session: Session, round_id: UUID) -> list[TabletRound]:
    """Return what the round waits for."""
    held = held_of_round(session, round_id)
    releases = releases_of_round(session, round_id) if held else []
    return [one for one in held if is_waited_for(one, releases)]
