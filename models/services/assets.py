"""Enter sites, lineups, cells, apparatus and instruments."""

from collections.abc import Mapping
from datetime import date
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.schema import Apparatus, Calibration, Cell, Instrument, Lineup, Site
from models.services.check_plates import check_accuracy, check_nameplate


def add_site(
    session: Session,
    *,
    site_id: UUID,
    owner_id: UUID,
    name: str,
    address: str,
    zone: str,
) -> Site:
    """Add a site of an owner; *zone* is an IANA name."""
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

    Raises InputError with every rating that cannot be.
    """
    check_nameplate(ratings)
    plate: dict[str, Any] = dict.fromkeys(
        (
            "rated_withstand_kv",
            "rated_impulse_kv",
            "rated_a",
            "rated_ka",
            "rated_s",
            "rated_hz",
            "level_ac_kv",
            "level_dc_kv",
            "built_year",
            "serial",
        )
    )
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
    accuracy_pct: float | None,
    accuracy_fixed: float | None,
    accuracy_unit: str | None,
) -> Instrument:
    """Add an instrument to a test firm's register.

    Raises InputError when its accuracy is below zero, or in a unit that does not
    fit its procedures.
    """
    check_accuracy(procedures, accuracy_pct, accuracy_fixed, accuracy_unit)
    instrument = Instrument(
        id=instrument_id,
        organisation_id=organisation_id,
        tag=tag,
        name=name,
        serial=serial,
        procedures=procedures,
        accuracy_pct=accuracy_pct,
        accuracy_fixed=accuracy_fixed,
        accuracy_unit=accuracy_unit,
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
