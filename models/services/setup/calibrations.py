"""Calibrations of an instrument: enter one, take back one that nothing rests on."""

from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.schema import Calibration, Instrument, Reading
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of
from models.services.setup import assets
from models.services.setup.instruments import instrument_of


@dataclass(frozen=True, slots=True, kw_only=True)
class CalibrationEntry:
    """What is entered of a calibration; the days are those of the certificate."""

    calibrated_on: date | None
    due_on: date | None
    certificate_no: str
    laboratory: str


def enter_calibration(
    session: Session,
    *,
    person_id: UUID,
    instrument_id: UUID,
    calibration_id: UUID,
    entry: CalibrationEntry,
    now: datetime,
) -> UUID:
    """Add a calibration to an instrument of the person's firm.

    Raises InputError: a day that is missing, in the future or out of order, a blank
    text, a certificate that the instrument has already.
    """
    take_turn(session)
    person = person_of(session, person_id)
    row = instrument_of(session, person, instrument_id, doing="set up")
    if faults := calibration_faults(row, entry, now.date()):
        raise InputError(*faults)
    assert entry.calibrated_on is not None
    assert entry.due_on is not None
    given = {
        "calibrated_on": entry.calibrated_on,
        "due_on": entry.due_on,
        "certificate_no": entry.certificate_no.strip(),
        "laboratory": entry.laboratory.strip(),
    }
    assets.add_calibration(
        session,
        calibration_id=calibration_id,
        instrument_id=instrument_id,
        calibrated_on=entry.calibrated_on,
        due_on=entry.due_on,
        certificate_no=entry.certificate_no.strip(),
        laboratory=entry.laboratory.strip(),
    )
    session.expire(row, ["calibrations"])
    append_log(
        session,
        actor_id=person_id,
        action="add calibration",
        subject=f"instrument {instrument_id}",
        body={"calibration": calibration_id, **given},
        now=now,
    )
    return calibration_id


def remove_calibration(
    session: Session,
    *,
    person_id: UUID,
    instrument_id: UUID,
    calibration_id: UUID,
    now: datetime,
) -> None:
    """Take back a calibration that was entered amiss; the log keeps it.

    Raises ConflictError once a reading rests on it.
    """
    take_turn(session)
    person = person_of(session, person_id)
    row = instrument_of(session, person, instrument_id, doing="set up")
    found = next((c for c in row.calibrations if c.id == calibration_id), None)
    if found is None:
        raise NotFoundError("calibration", calibration_id)
    used = select(Reading.id).where(Reading.calibration_id == calibration_id).limit(1)
    if session.scalar(used) is not None:
        raise ConflictError(
            f"Readings rest on certificate {found.certificate_no}: it stays. Enter the "
            "right one beside it."
        )
    body = {
        "calibration": calibration_id,
        "calibrated_on": found.calibrated_on,
        "due_on": found.due_on,
        "certificate_no": found.certificate_no,
        "laboratory": found.laboratory,
    }
    row.calibrations.remove(found)
    session.delete(found)
    session.flush()
    append_log(
        session,
        actor_id=person_id,
        action="remove calibration",
        subject=f"instrument {instrument_id}",
        body=body,
        now=now,
    )


def calibration_faults(
    instrument: Instrument | None, entry: CalibrationEntry, today: date
) -> list[Fault]:
    """Return all that is wrong with an entry, each at its field.

    *instrument* None: one that is not stored yet.
    """
    faults = text_faults("certificate_no", entry.certificate_no, "the certificate")
    faults += text_faults("laboratory", entry.laboratory, "who calibrated it")
    since, due = entry.calibrated_on, entry.due_on
    for name, day in (("calibrated_on", since), ("due_on", due)):
        if day is None:
            faults.append(Fault(field=name, message="Enter the day: 2026-03-31."))
    if since and since > today:
        message = "A calibration is entered once it was done."
        faults.append(Fault(field="calibrated_on", message=message))
    if since and due and not since < due:
        message = "It falls due after the day of the calibration."
        faults.append(Fault(field="due_on", message=message))
    certificate = entry.certificate_no.strip()
    known: list[Calibration] = instrument.calibrations if instrument else []
    if certificate and any(one.certificate_no == certificate for one in known):
        message = f"Certificate {certificate} is entered already."
        faults.append(Fault(field="certificate_no", message=message))
    return faults
