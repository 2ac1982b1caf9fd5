"""What a round needs: instruments for each procedure, and what else is read."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.fields import find_field
from models.procedures import PROCEDURES
from models.record.instrument import NAMES_SUPPLY
from models.schema import Instrument
from models.services.planning.round_plan import PlanCard
from models.services.setup.instrument_ranges import unfit_for

# Conditions that the test set does not show: what reads them (common practice).
ACCESSORIES = {
    "temperature_c": "a thermometer for the part under test",
    "air_temperature_c": "a thermometer for the air",
    "humidity_pct": "a hygrometer",
    "air_pressure_kpa": "a barometer",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """An instrument that can do it; *lapses*: planned days it is not calibrated on."""

    tag: str
    name: str
    due_on: date | None
    lapses: Sequence[date]


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What the cards of one procedure need, with the instruments that fit."""

    title: str
    abilities: Sequence[str]
    accessories: Sequence[str]
    cards: int
    days: Sequence[date]
    fitting: Sequence[Fitting]

    @property
    def is_met(self) -> bool:
        """Whether some instrument fits and is in calibration on every day."""
        return any(not one.lapses for one in self.fitting)


def needs_of(
    session: Session,
    organisation_id: Any,
    planned: Iterable[PlanCard],
    asks: Mapping[str, Sequence[str]],
    today: date,
) -> list[Need]:
    """Return what the planned cards need, procedure by procedure.

    *asks*: what the rules of each procedure ask of the test, in words; *today*: the
    day that counts for a card without one.
    """
    instruments = session.scalars(
        select(Instrument)
        .where(Instrument.organisation_id == organisation_id)
        .options(selectinload(Instrument.calibrations), selectinload(Instrument.ranges))
        .order_by(Instrument.tag)
    ).all()
    grouped: dict[Any, list[PlanCard]] = {}
    for card in planned:
        supply = next(
            (str(card.defaults[n]) for n in NAMES_SUPPLY if card.defaults.get(n)), ""
        )
        grouped.setdefault((card.procedure, supply), []).append(card)
    return [
        _need(name, supply, cards, instruments, asks.get(name, ()), today)
        for (name, supply), cards in grouped.items()
        if not PROCEDURES[name].by_eye
    ]


def _need(
    name: str,
    supply: str,
    cards: Sequence[PlanCard],
    instruments: Iterable[Instrument],
    asks: Sequence[str],
    today: date,
) -> Need:
    days = sorted({card.planned_on or today for card in cards})
    applied = [dict(card.defaults) for card in cards]
    return Need(
        title=PROCEDURES[name].title,
        abilities=[*([supply] if supply else []), *_levels(applied), *asks],
        accessories=_accessories(name),
        cards=len(cards),
        days=days,
        fitting=[
            _fitting(one, days)
            for one in instruments
            if one.retired_on is None
            and not any(unfit_for(one, name, c) for c in applied)
        ],
    )


def _levels(applied: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return the highest of each level that is to be applied, in words."""
    found: dict[str, float] = {}
    for conditions in applied:
        for name, value in conditions.items():
            if isinstance(value, int | float) and name.endswith(("_kv", "_a")):
                found[name] = max(found.get(name, 0.0), float(value))
    said = []
    for name, value in found.items():
        about = find_field(name)
        if about is not None:
            said.append(f"{about.in_sentence} {value:g} {about.said_unit}")
    return said


def _accessories(name: str) -> list[str]:
    asked = [ask["name"] for ask in PROCEDURES[name].asks]
    return [ACCESSORIES[one] for one in asked if one in ACCESSORIES]


def _fitting(instrument: Instrument, days: Iterable[date]) -> Fitting:
    held = instrument.calibrations
    return Fitting(
        tag=instrument.tag,
        name=instrument.name,
        due_on=held[-1].due_on if held else None,
        lapses=[
            day
            for day in days
            if not any(c.calibrated_on <= day <= c.due_on for c in held)
        ],
    )
