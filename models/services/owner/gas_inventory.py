"""Gas that was put into and taken out of the tanks of a lineup, over all rounds.

Masses are in kg, as the scales of the cylinders showed them, from every round that was
turned over. Each tank's sums are by year of the site's own calendar.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.fields import field as field_named
from models.procedures import PROCEDURES
from models.schema import Apparatus, Card, Reading, Round
from models.services.field.card_facts import gather_readings

WAY, INTO, OUT = "gas_way", "in", "out"
YEAR = timedelta(hours=8766)
SHORTEST = YEAR / 2  # below that a rate a year says nothing (common practice)


@dataclass(slots=True)
class GasSum:
    """Mass in and out, kg."""

    into_kg: float = 0.0
    out_kg: float = 0.0

    @property
    def net_kg(self) -> float:
        """What stayed in the tank."""
        return self.into_kg - self.out_kg

    def add(self, way: str, kg: float) -> None:
        """Add what one cylinder gave, or took."""
        if way == INTO:
            self.into_kg += kg
        else:
            self.out_kg += kg


@dataclass(frozen=True, slots=True, kw_only=True)
class TankGas:
    """What one tank got and gave.

    *plate_kg* is what its nameplate says it holds. *later* is what was moved after the
    acceptance; with *began* and *until*, the first and the last reading.
    """

    apparatus_id: UUID
    label: str
    cell_number: str
    plate_kg: float | None
    gas: str = ""  # as people write it
    years: dict[int, GasSum] = field(default_factory=lambda: defaultdict(GasSum))
    filled: GasSum = field(default_factory=GasSum)  # in the acceptance
    later: GasSum = field(default_factory=GasSum)
    moments: list[datetime] = field(default_factory=list)
    uncounted: list[str] = field(default_factory=list)  # without a way, or a bound

    @property
    def total(self) -> GasSum:
        """Everything in and out."""
        return GasSum(
            self.filled.into_kg + self.later.into_kg,
            self.filled.out_kg + self.later.out_kg,
        )

    @property
    def short_kg(self) -> float | None:
        """What the acceptance put in, less what the nameplate says; None: not known."""
        if self.plate_kg is None or not self.filled.into_kg:
            return None
        return self.filled.net_kg - self.plate_kg

    @property
    def lost_pct_year(self) -> float | None:
        """What had to be added after the acceptance, in %/year of the nameplate's mass.

        It is what leaked where every later round left the tank at its fill. None where
        nothing was added, where less than half a year lies between the first and the
        last reading, or without the nameplate's mass.
        """
        if not self.plate_kg or not self.moments or self.later.net_kg <= 0:
            return None
        between = max(self.moments) - min(self.moments)
        if between < SHORTEST:
            return None
        return 100 * self.later.net_kg / self.plate_kg / (between / YEAR)


def by_gas(tanks: Iterable[TankGas]) -> dict[str, GasSum]:
    """Return the sums of all tanks of each gas; gases are never added together."""
    found: dict[str, GasSum] = defaultdict(GasSum)
    for tank in tanks:
        found[tank.gas].add(INTO, tank.total.into_kg)
        found[tank.gas].add(OUT, tank.total.out_kg)
    return dict(found)


def gas_inventory(
    session: Session, rounds: Sequence[Round], zone: str
) -> list[TankGas]:
    """Return the tanks of which gas was moved in these rounds, by cell and label."""
    tanks: dict[UUID, TankGas] = {}
    for card, kind, reading in _moved(session, rounds):
        tank = tanks.setdefault(card.apparatus_id, _tank(card.apparatus))
        way, kg = reading.conditions.get(WAY), reading.judgement.corrected
        if way not in (INTO, OUT) or kg is None or reading.low != reading.high:
            tank.uncounted.append(reading.text)
            continue
        year = reading.taken_at.astimezone(ZoneInfo(zone)).year
        tank.years[year].add(way, kg)
        (tank.filled if kind == "acceptance" else tank.later).add(way, kg)
        tank.moments.append(reading.taken_at)
    return sorted(tanks.values(), key=lambda one: (one.cell_number, one.label))


def _tank(apparatus: Apparatus) -> TankGas:
    plate = apparatus.nameplate.get("gas_mass_kg")
    return TankGas(
        apparatus_id=apparatus.id,
        label=apparatus.label,
        cell_number=apparatus.cell.number if apparatus.cell else "",
        plate_kg=None if plate is None else float(plate),
        gas=field_named("gas").choice_words(str(apparatus.nameplate.get("gas", ""))),
    )


def _moved(
    session: Session, rounds: Sequence[Round]
) -> Iterator[tuple[Card, str, Reading]]:
    """Yield the readings that hold, each with its card and the kind of its round."""
    kinds = {one.id: one.kind for one in rounds}
    moving = [
        name
        for name, one in PROCEDURES.items()
        if any(ask["name"] == WAY for ask in one.asks)
    ]
    cards = session.scalars(
        select(Card)
        .where(Card.round_id.in_(kinds), Card.procedure.in_(moving))
        .options(selectinload(Card.points), joinedload(Card.apparatus))
    ).all()
    for facts in gather_readings(session, cards).values():
        for reading in facts.current:
            yield facts.card, kinds[facts.card.round_id], reading
