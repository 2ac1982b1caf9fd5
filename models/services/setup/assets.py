"""Enter sites, instruments and their calibrations."""

from collections.abc import Sequence
from datetime import date
from uuid import UUID
from zoneinfo import available_timezones

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.record.instrument import Range
from models.schema import (
    Calibration,
    Instrument,
    Organisation,
    Site,
)
from models.schema.base import Record
from models.services.setup.check_instrument import check_instrument
from models.services.setup.instrument_ranges import rows_of


def add_site(
    session: Session,
    *,
    site_id: UUID,
    owner_id: UUID,
    name: str,
    address: str,
    zone: str,
) -> Site:
    """Add a site of an owner; *zone* is an IANA name, InputError for any other."""
    _require(session, Organisation, owner_id)
    if zone not in available_timezones():
        raise _fault("zone", f"'{zone}' is no time zone: write Europe/Lisbon, say.")
    site = Site(id=site_id, owner_id=owner_id, name=name, address=address, zone=zone)
    session.add(site)
    session.flush()
    return site


def add_instrument(
    session: Session,
    *,
    instrument_id: UUID,
    organisation_id: UUID,
    tag: str,
    name: str,
    serial: str,
    procedures: list[str],
    ranges: Sequence[Range] = (),
    maker: str | None = None,
    type_: str | None = None,
) -> Instrument:
    """Add an instrument to a test firm's register.

    *ranges*: what it reads and applies. Raises InputError for a procedure that there
    is not and for a range that cannot be, with its place (`ranges.0.unit`).
    """
    _require(session, Organisation, organisation_id)
    _require_free(session, Instrument, "tag", organisation_id=organisation_id, tag=tag)
    check_instrument(procedures, ranges)
    instrument = Instrument(
        id=instrument_id,
        organisation_id=organisation_id,
        tag=tag,
        name=name,
        serial=serial,
        procedures=procedures,
        maker=maker,
        type=type_,
        ranges=rows_of(instrument_id, ranges),
    )
    session.add(instrument)
    session.flush()
    return instrument


def add_calibration(
    session: Session,
    *,
    calibration_id: UUID,
    instrument_id: UUID,
    calibrated_on: date,
    due_on: date,
    certificate_no: str,
    laboratory: str,
) -> Calibration:
    """Add a calibration; valid from its day to the day it falls due."""
    _require(session, Instrument, instrument_id)
    if not calibrated_on < due_on:
        raise _fault("due_on", "It falls due after the day of the calibration.")
    calibration = Calibration(
        id=calibration_id,
        instrument_id=instrument_id,
        calibrated_on=calibrated_on,
        due_on=due_on,
        certificate_no=certificate_no,
        laboratory=laboratory,
    )
    session.add(calibration)
    session.flush()
    return calibration


def _require(session: Session, table: type[Record], identifier: UUID) -> None:
    if session.get(table, identifier) is None:
        raise NotFoundError(table.__tablename__, identifier)


def _require_free(
    session: Session, table: type[Record], field: str, **values: object
) -> None:
    """Raise InputError at *field* when a row with these values is there already."""
    if session.scalars(select(table).filter_by(**values)).first() is not None:
        raise _fault(field, f"{field} '{values[field]}' is taken.")


def _fault(field: str, message: str) -> InputError:
    return InputError(Fault(field=field, message=message))
