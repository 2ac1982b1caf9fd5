"""The register of instruments: add one, change one, retire one, read one."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.record.instrument import Range
from models.schema import Instrument, Person
from models.services.keeping.log import append_log, take_turn, texted
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, require
from models.services.setup import assets
from models.services.setup.check_instrument import instrument_faults
from models.services.setup.instrument_ranges import ranges_of, rows_of
from models.signing import chain

TEXTS = {
    "tag": "the number under which it is known",
    "name": "what it is",
    "serial": "its serial number",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentEntry:
    """What is entered of an instrument; *maker* and *type* may be blank."""

    tag: str
    name: str
    serial: str
    maker: str = ""
    type: str = ""
    procedures: Sequence[str] = ()
    ranges: Sequence[Range] = ()

    def as_json(self) -> dict[str, Any]:
        """Return the entry as plain values, as the log keeps it."""
        return {
            **{name: getattr(self, name).strip() for name in TEXTS},
            "maker": self.maker.strip() or None,
            "type": self.type.strip() or None,
            "procedures": list(self.procedures),
            "ranges": [one.as_json() for one in self.ranges],
        }


def instrument_of(
    session: Session, person: Person, instrument_id: UUID, *, doing: str
) -> Instrument:
    """Return an instrument of the person's firm; NotFoundError for any other."""
    require(person, doing)
    found = session.get(Instrument, instrument_id)
    if found is None or found.organisation_id != person.organisation_id:
        raise NotFoundError("instrument", instrument_id)
    return found


def entry_of(instrument: Instrument) -> InstrumentEntry:
    """Return what stands in the register as it may be entered."""
    return InstrumentEntry(
        tag=instrument.tag,
        name=instrument.name,
        serial=instrument.serial,
        maker=instrument.maker or "",
        type=instrument.type or "",
        procedures=tuple(instrument.procedures),
        ranges=tuple(ranges_of(instrument)),
    )


def version_of(entry: InstrumentEntry) -> str:
    """Return what stands for an entry: who changes it names what they saw."""
    return hashlib.sha256(chain.canonical(texted(entry.as_json()))).hexdigest()[:16]


def enter_instrument(
    session: Session,
    *,
    person_id: UUID,
    instrument_id: UUID,
    entry: InstrumentEntry,
    now: datetime,
) -> UUID:
    """Add an instrument to the register of the person's firm.

    Raises InputError: a blank or taken tag, a range that cannot be (`ranges.0.high`).
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    if faults := entry_faults(session, person.organisation_id, entry, None):
        raise InputError(*faults)
    given = entry.as_json()
    assets.add_instrument(
        session,
        instrument_id=instrument_id,
        organisation_id=person.organisation_id,
        tag=given["tag"],
        name=given["name"],
        serial=given["serial"],
        procedures=given["procedures"],
        ranges=entry.ranges,
        maker=given["maker"],
        type_=given["type"],
    )
    _log(session, person_id, "add instrument", instrument_id, given, now)
    return instrument_id


def change_instrument(
    session: Session,
    *,
    person_id: UUID,
    instrument_id: UUID,
    entry: InstrumentEntry,
    seen: str,
    now: datetime,
) -> bool:
    """Change what the register says; False where nothing differs.

    Readings keep the accuracy of the day on which they were taken. *seen* is the
    `version_of` what was shown: ConflictError where somebody changed it since.
    """
    take_turn(session)
    person = person_of(session, person_id)
    row = instrument_of(session, person, instrument_id, doing="set up")
    before = entry_of(row)
    if faults := entry_faults(session, row.organisation_id, entry, row.id):
        raise InputError(*faults)
    if seen != version_of(before):
        raise ConflictError(
            f"{row.tag} was changed by somebody else in the meantime. Nothing was "
            "stored: look at it as it stands now, and change it again."
        )
    old, new = before.as_json(), entry.as_json()
    changed = {n: {"old": old[n], "new": new[n]} for n in new if old[n] != new[n]}
    if not changed:
        return False
    for name, value in new.items():
        if name != "ranges":
            setattr(row, name, value)
    if "ranges" in changed:
        row.ranges.clear()
        session.flush()
        row.ranges.extend(rows_of(row.id, entry.ranges))
    session.flush()
    _log(session, person_id, "change instrument", row.id, changed, now)
    return True


def retire_instrument(
    session: Session,
    *,
    person_id: UUID,
    instrument_id: UUID,
    on: date | None,
    now: datetime,
) -> None:
    """Offer an instrument no more from a day on, or (None) offer it again.

    What it read stands; its calibrations stay.
    """
    take_turn(session)
    person = person_of(session, person_id)
    row = instrument_of(session, person, instrument_id, doing="set up")
    body = {"retired_on": {"old": row.retired_on, "new": on}}
    if row.retired_on == on:
        return
    row.retired_on = on
    session.flush()
    action = "retire instrument" if on else "take instrument back"
    _log(session, person_id, action, row.id, body, now)


def entry_faults(
    session: Session,
    organisation_id: UUID,
    entry: InstrumentEntry,
    own: UUID | None,
) -> list[Fault]:
    """Return all that is wrong with an entry, each at its field.

    *own* is the instrument that is changed, None for a new one.
    """
    faults: list[Fault] = []
    for name, what in TEXTS.items():
        faults += text_faults(name, getattr(entry, name), what)
    same = select(Instrument.id).where(
        Instrument.organisation_id == organisation_id,
        Instrument.tag == entry.tag.strip(),
    )
    if set(session.scalars(same)) - {own}:
        message = f"There is an instrument '{entry.tag.strip()}' already."
        faults.append(Fault(field="tag", message=message))
    if not entry.procedures:
        message = "Choose at least one procedure that it is used for."
        faults.append(Fault(field="procedures", message=message))
    return faults + instrument_faults(entry.procedures, entry.ranges)


def _log(
    session: Session,
    person_id: UUID,
    action: str,
    instrument_id: UUID,
    body: dict[str, Any],
    now: datetime,
) -> None:
    append_log(
        session,
        actor_id=person_id,
        action=action,
        subject=f"instrument {instrument_id}",
        body=body,
        now=now,
    )
