"""Enter sites, lineups, cells, apparatus and instruments."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any
from uuid import UUID
from zoneinfo import available_timezones

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.record.instrument import Range
from models.schema import (
    Apparatus,
    Calibration,
    Cell,
    Instrument,
    Lineup,
    Organisation,
    Site,
)
from models.schema.base import Record
from models.services.setup.check_instrument import check_instrument
from models.services.setup.check_plates import check_nameplate
from models.services.setup.instrument_ranges import rows_of
from models.services.setup.nameplate import GEAR_NAMES, LINEUP_PLATE


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


def add_lineup(
    session: Session,
    *,
    lineup_id: UUID,
    site_id: UUID,
    name: str,
    gear: str,
    ratings: Mapping[str, Any],
) -> Lineup:
    """Add a lineup; *ratings* holds the columns of its nameplate.

    Raises NotFoundError: no such site; InputError: every rating that cannot be, a
    gear that is none, a name that the site has already.
    """
    _require(session, Site, site_id)
    _require_free(session, Lineup, "name", site_id=site_id, name=name)
    check_nameplate(ratings)
    if gear not in GEAR_NAMES:
        raise _fault("gear", f"'{gear}' is none of {', '.join(GEAR_NAMES)}.")
    if ratings.get("rated_kv") is None:
        raise _fault("rated_kv", "Give the rated maximum voltage in kV.")
    for column in ratings:
        if column not in LINEUP_PLATE:
            raise _fault(column, f"A lineup's nameplate has no '{column}'.")
    plate: dict[str, Any] = dict.fromkeys(LINEUP_PLATE)
    plate |= ratings
    lineup = Lineup(id=lineup_id, site_id=site_id, name=name, gear=gear, **plate)
    session.add(lineup)
    session.flush()
    return lineup


def add_cell(
    session: Session,
    *,
    cell_id: UUID,
    lineup_id: UUID,
    position: int,
    number: str,
    name: str,
    kind: str,
    bus: str,
) -> Cell:
    """Add a cell, counted from the left seen from the front."""
    _require(session, Lineup, lineup_id)
    _require_free(session, Cell, "position", lineup_id=lineup_id, position=position)
    cell = Cell(
        id=cell_id,
        lineup_id=lineup_id,
        position=position,
        number=number,
        name=name,
        kind=kind,
        bus=bus,
    )
    session.add(cell)
    session.flush()
    return cell


def add_apparatus(
    session: Session,
    *,
    apparatus_id: UUID,
    cell_id: UUID,
    position: int,
    kind: str,
    label: str,
    nameplate: Mapping[str, Any],
) -> Apparatus:
    """Add an apparatus; the fields of its nameplate depend on its kind.

    Raises InputError with every field that cannot be: a pickup of nothing ...
    """
    check_nameplate(nameplate)
    _require(session, Cell, cell_id)
    _require_free(session, Apparatus, "position", cell_id=cell_id, position=position)
    apparatus = Apparatus(
        id=apparatus_id,
        cell_id=cell_id,
        position=position,
        kind=kind,
        label=label,
        nameplate=dict(nameplate),
    )
    session.add(apparatus)
    session.flush()
    return apparatus


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
