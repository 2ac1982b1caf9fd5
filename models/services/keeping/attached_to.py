"""What a file may be attached to, and who may see and change what is attached there."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, NotFoundError
from models.schema import (
    Apparatus,
    Calibration,
    Card,
    Deficiency,
    Instrument,
    Person,
    Reading,
    Round,
)
from models.services.people.access import (
    card_of,
    lineup_of,
    reading_of,
    require,
    require_open,
    round_of,
    site_of,
    visible_rounds,
)

See = Callable[[Session, Person, UUID], Round | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """A kind of thing that files are attached to.

    *see* gives the round that the thing belongs to, if to one, and raises
    NotFoundError for who may not see the thing; *doing* is what has to be allowed.
    """

    see: See
    doing: str


def subject_of(name: str) -> Subject:
    """Return the kind of thing; NotFoundError for a name that is none."""
    if name not in THINGS:
        raise NotFoundError("kind of thing", name)
    return THINGS[name]


def see(
    session: Session, person: Person, subject: str, subject_id: UUID
) -> Round | None:
    """Return the round that the thing belongs to, if to one.

    Raises NotFoundError for who may not see the thing, and names nothing else.
    """
    thing = subject_of(subject)
    try:
        return thing.see(session, person, subject_id)
    except NotFoundError:
        raise NotFoundError(subject, subject_id) from None


def require_change(
    session: Session, person: Person, subject: str, subject_id: UUID
) -> None:
    """Raise NotFoundError, ForbiddenError or ConflictError for who may not attach.

    What belongs to a round stands as it was once that is turned over.
    """
    round_ = see(session, person, subject, subject_id)
    require(person, subject_of(subject).doing)
    if round_ is not None:
        require_open(round_)


def may_change(
    session: Session, person: Person, subject: str, subject_id: UUID
) -> bool:
    """Return whether the person may attach files there now."""
    try:
        require_change(session, person, subject, subject_id)
    except (ForbiddenError, ConflictError):
        return False
    return True


def _round(session: Session, person: Person, key: UUID) -> Round:
    return round_of(session, person, key)


def _card(session: Session, person: Person, key: UUID) -> Round:
    return card_of(session, person, key).round


def _reading(session: Session, person: Person, key: UUID) -> Round:
    return reading_of(session, person, key).card.round


def _deficiency(session: Session, person: Person, key: UUID) -> Round:
    found = _row(session, Deficiency, "deficiency", key)
    return card_of(session, person, found.card_id).round


def _lineup(session: Session, person: Person, key: UUID) -> None:
    lineup_of(session, person, key)


def _site(session: Session, person: Person, key: UUID) -> None:
    site_of(session, person, key)


def _apparatus(session: Session, person: Person, key: UUID) -> None:
    found = _row(session, Apparatus, "apparatus", key)
    site_of(session, person, found.site_id)


def _instrument(session: Session, person: Person, key: UUID) -> None:
    """An instrument is its firm's to see, and of who sees a reading taken with it."""
    found = _row(session, Instrument, "instrument", key)
    if found.organisation_id == person.organisation_id:
        return
    seen = (
        select(Reading.id)
        .join(Card)
        .where(Reading.instrument_id == key)
        .where(Card.round_id.in_(visible_rounds(person).with_only_columns(Round.id)))
    )
    if session.scalars(seen.limit(1)).first() is None:
        raise NotFoundError("instrument", key)


def _calibration(session: Session, person: Person, key: UUID) -> None:
    found = _row(session, Calibration, "calibration", key)
    _instrument(session, person, found.instrument_id)


def _row(session: Session, table: type[Any], name: str, key: UUID) -> Any:
    found = session.get(table, key)
    if found is None:
        raise NotFoundError(name, key)
    return found


THINGS = {
    "apparatus": Subject(see=_apparatus, doing="attach to gear"),
    "calibration": Subject(see=_calibration, doing="attach to instruments"),
    "card": Subject(see=_card, doing="record"),
    "deficiency": Subject(see=_deficiency, doing="record"),
    "instrument": Subject(see=_instrument, doing="attach to instruments"),
    "lineup": Subject(see=_lineup, doing="attach to gear"),
    "reading": Subject(see=_reading, doing="record"),
    "round": Subject(see=_round, doing="record"),
    "site": Subject(see=_site, doing="attach to gear"),
}
