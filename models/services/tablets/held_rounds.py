"""A round is taken along on a tablet, told about, and given back."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.schema import Tablet, TabletRound
from models.services.people.access import person_of, require, round_of
from models.services.tablets.read_tablet import said_time, tablet_id
from models.services.tablets.revoked import require_admitted

COUNTS = ("entries", "photos", "intents")
MOST = 1_000_000  # of anything that a tablet can hold


def take_along(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    said: Mapping[str, Any],
    now: datetime,
) -> None:
    """Note that the person holds the round on the tablet; *said*: tablet, taken_at."""
    tablet, held = _held(session, person_id, round_id, said)
    taken_at = said_time(said, "taken_at") or now
    if session.get(Tablet, tablet) is None:
        raise NotFoundError("tablet", tablet)
    if held is None:
        held = TabletRound(
            tablet_id=tablet, round_id=round_id, person_id=person_id, told_at=now
        )
        held.entries = held.photos = held.intents = 0
        session.add(held)
    held.taken_at, held.given_back_at = min(taken_at, now), None


def give_back(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    said: Mapping[str, Any],
    now: datetime,
) -> None:
    """Note that the tablet holds the round no more, with nothing unsent.

    Raises InputError where the tablet last told of something unsent.
    """
    _, held = _held(session, person_id, round_id, said)
    if held is None or held.given_back_at:
        return
    left = sum(getattr(held, name) for name in COUNTS)
    if left:
        raise InputError(
            Fault(
                field="tablet",
                message=f"This tablet last told of {left} unsent: send them first, "
                "or carry them off as a file.",
            )
        )
    held.given_back_at = now


def tell(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    said: Mapping[str, Any],
    now: datetime,
) -> None:
    """Note what the tablet still holds unsent of the round for this person.

    *said*: tablet; entries, photos, intents as counts, oldest_at as RFC 3339 or None.
    One that never took the round along is not noted.
    """
    _, held = _held(session, person_id, round_id, said)
    if held is None:
        return
    for name in COUNTS:
        setattr(held, name, _count(name, said.get(name, 0)))
    held.oldest_at = said_time(said, "oldest_at")
    held.told_at = now


def _count(name: str, value: Any) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= MOST:
        raise InputError(Fault(field=name, message="This is no count."))
    return value


def _held(
    session: Session, person_id: UUID, round_id: UUID, said: Mapping[str, Any]
) -> tuple[UUID, TabletRound | None]:
    """Return the tablet, and what it holds of a round that the person may record on.

    Raises RevokedTabletError.
    """
    person = person_of(session, person_id)
    require(person, "record")
    round_of(session, person, round_id)
    tablet = tablet_id(said)
    require_admitted(session, tablet)
    return tablet, session.get(TabletRound, (tablet, round_id, person_id))
