"""A reading taken from a waveform record: its entry, its verdict beforehand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError
from models.fields import narrowed, read_value
from models.procedures import PROCEDURES
from models.record.instrument import accuracy_of, supply_of
from models.schema import Instrument, Point, Reading
from models.services.field.accept_entries import accept_entries
from models.services.field.card_facts import CardFacts
from models.services.field.judge_card import bodies
from models.services.field.record_reading import calibration_on
from models.services.keeping.rules import read_rule
from models.services.people.access import person_of
from models.services.setup.instrument_ranges import ranges_of
from models.services.waveforms.timed_card import timed_facts

SPACE = UUID("6b7c5c52-9d0e-5d0b-8f57-4a2f0f6c1e17")
DEVICE = "desk"


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedReading:
    """A time as it is to be recorded: *text* in *unit*.

    *measured_by* are the file's digest and the choice of start and end as text: the
    same of both at the same point is the same reading. *note* says how it was measured.
    """

    point_id: UUID
    text: str
    unit: str
    conditions: Mapping[str, Any]
    instrument_id: UUID | None
    reason: str
    measured_by: str
    note: str

    def key(self, card_id: UUID) -> UUID:
        """Return the entry's key, the same for the same file, choice and point."""
        return uuid5(SPACE, f"{card_id} {self.point_id} {self.measured_by}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """The reading as the judging core asks for it."""

    id: UUID
    text: str
    unit: str | None
    conditions: Mapping[str, Any]
    accuracy: Mapping[str, Any]
    calibrated: bool


def judged_beforehand(
    session: Session,
    *,
    person_id: UUID,
    card_id: UUID,
    taken: TimedReading,
    now: datetime,
) -> dict[str, Any]:
    """Return the judgement that *taken* would have, as JSON; nothing is stored.

    Raises InputError for a condition or a point that is none.
    """
    facts = timed_facts(session, person_id, card_id)
    point = _point(facts, taken)
    instrument = (
        session.get(Instrument, taken.instrument_id) if taken.instrument_id else None
    )
    ranges = ranges_of(instrument) if instrument else ()
    conditions = {**point.given, **_read(facts, taken.conditions)}
    row = _Row(
        id=taken.key(card_id),
        text=taken.text,
        unit=taken.unit,
        conditions=conditions,
        accuracy=accuracy_of(ranges, taken.unit, supply_of(conditions)),
        calibrated=instrument is not None
        and calibration_on(instrument, now) is not None,
    )
    beside = [
        one
        for one in facts.current
        if one.point.group == point.group and one.point_id != point.id
    ]
    rules = [read_rule(one.rule_in_force) for one in beside]
    return bodies([*beside, row], [*rules, read_rule(point.stored_rule)])[-1]


def record_time(
    session: Session,
    *,
    person_id: UUID,
    card_id: UUID,
    taken: TimedReading,
    taken_at: datetime,
    now: datetime,
) -> bool:
    """Record the reading with its note; False where it is on record already.

    It takes the way of a tablet's entries, and needs an open card as they do. Raises
    InputError and ConflictError as an entry says why it is not taken.
    """
    facts = timed_facts(session, person_id, card_id)
    key = taken.key(card_id)
    if session.get(Reading, key) is not None:
        return False
    point = _point(facts, taken)
    person = person_of(session, person_id)
    standing = next((one for one in facts.current if one.point_id == point.id), None)
    entry = {
        "key": str(key),
        "kind": "reading",
        "card_id": str(card_id),
        "at": taken_at.isoformat(),
        "point_id": str(point.id),
        "text": taken.text,
        "unit": taken.unit,
        "conditions": {
            k: v for k, v in taken.conditions.items() if v not in (None, "")
        },
        "instrument_id": str(taken.instrument_id or ""),
        "supersedes": str(standing.id) if standing else None,
        "reason": taken.reason,
    }
    note = {
        "key": str(uuid5(key, "note")),
        "kind": "note",
        "card_id": str(card_id),
        "at": taken_at.isoformat(),
        "text": f"{point.label}: {taken.note}",
    }
    answers = accept_entries(
        session,
        person_id=person.id,
        round_id=facts.card.round_id,
        device=DEVICE,
        entries=[entry, note],
        now=now,
    )
    _require_stored(answers)
    return True


def _require_stored(answers: Sequence[Mapping[str, Any]]) -> None:
    for answer in answers:
        faults = [Fault(**one) for one in answer["faults"]]
        if answer["status"] == "refused":
            raise InputError(*faults)
        if answer["status"] == "conflict":
            raise ConflictError(" ".join(one.message for one in faults))


def _point(facts: CardFacts, taken: TimedReading) -> Point:
    for point in facts.card.points:
        if point.id == taken.point_id:
            return point
    raise InputError(Fault(field="point", message="Choose the point."))


def _read(facts: CardFacts, typed: Mapping[str, Any]) -> dict[str, Any]:
    procedure = PROCEDURES[facts.card.procedure]
    asks = {ask["name"]: ask for ask in procedure.asks}
    rows = [one.name for one in procedure.series]
    return {name: typed[name] for name in rows if typed.get(name)} | {
        name: read_value(narrowed(name, tuple(asks[name]["choices"])), str(value))
        for name, value in typed.items()
        if name in asks and value not in (None, "")
    }
