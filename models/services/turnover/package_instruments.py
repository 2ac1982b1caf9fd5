"""The instruments of a package: those that its readings were taken with."""

from typing import Any
from uuid import UUID

from models.record.instrument_words import accuracy_words
from models.schema import Calibration, Instrument
from models.services.field.card_facts import CardFacts
from models.services.setup.instrument_ranges import ranges_of


def package_instruments(facts: list[CardFacts]) -> list[dict[str, Any]]:
    """Return each instrument with the calibration that held, sorted by its tag."""
    used: dict[tuple[UUID, UUID | None], tuple[Instrument, Calibration | None]] = {}
    for one in facts:
        for reading in one.readings:
            if reading.instrument is None:
                continue
            key = (reading.instrument.id, reading.calibration_id)
            used[key] = (reading.instrument, reading.calibration)
    rows = [_instrument(i, c) for i, c in used.values()]
    return sorted(rows, key=lambda row: (row["tag"], row["calibrated_on"] or ""))


def _instrument(
    instrument: Instrument, calibration: Calibration | None
) -> dict[str, Any]:
    return {
        "tag": instrument.tag,
        "name": instrument.name,
        "serial": instrument.serial,
        "accuracy": accuracy_words(ranges_of(instrument), _unit),
        "calibrated_on": calibration.calibrated_on.isoformat() if calibration else None,
        "due_on": calibration.due_on.isoformat() if calibration else None,
        "certificate_no": calibration.certificate_no if calibration else None,
        "laboratory": calibration.laboratory if calibration else None,
    }


def _unit(unit: str | None) -> str:
    return unit or ""  # as the program names it; who prints it says it
