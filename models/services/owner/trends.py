"""One quantity over the rounds of a lineup."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import isnan
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models import criteria
from models.analysis.pressure_trend import Pressure, PressureTrend, pressure_trend
from models.errors import CriteriaError, NotFoundError
from models.judging.said import Said, base_of
from models.judging.series import Series, Step, parse_series
from models.procedures import PROCEDURES
from models.schema import Card, Point, Round
from models.services.owner.baseline import (
    Place,
    baseline_round,
    place_of,
    round_values,
    turned_over,
)
from models.services.owner.earlier_readings import with_earlier
from models.services.people.access import lineup_of, person_of


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendPoint:
    """One round's reading of a quantity, at the reference temperature."""

    round_id: UUID
    round_title: str
    round_kind: str
    cell: str  # the number of the cell in which it was taken
    reading_id: UUID
    at: datetime
    text: str
    unit: str | None
    value: float | None
    verdict: str
    recalled: bool  # a figure behind the verdict is from memory
    uncertainty: float | None
    over_range: bool
    under_range: bool
    change_pct: float | None
    judged_again: Mapping[str, Any] | None  # the newest verdict given after turnover


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSeen:
    """A row of readings of one round, such as those over time."""

    round_title: str
    at: datetime
    series: Series
    steps: Sequence[Step]
    unit: str  # of what was shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """One quantity at one point over the rounds.

    `mates` are the other points of its group, which its criterion compares it
    with: (label, point id, readings).
    """

    lineup_id: UUID
    lineup_name: str
    site_name: str
    zone: str
    title: str
    where: str
    point: str
    unit: str
    said: Said  # of today's rule: in which the values are said, where not in `unit`
    logarithmic: bool
    corrected: bool  # to the reference temperature of 20 degC
    limit_low: float | None
    limit_high: float | None
    points: list[TrendPoint]
    mates: list[tuple[str, UUID, list[TrendPoint]]]
    pressure: PressureTrend | None  # of a residual pressure: its rise, the time left
    rows: list[RowSeen]  # rows of readings taken here, newest round first
    rule: Mapping[str, Any]  # that reads them at this point, as JSON

    @property
    def base(self) -> str:
        """Return the unit of the values, with the one in which they are said."""
        return base_of(self.unit, self.said, {})


def trend(session: Session, *, person_id: UUID, point_id: UUID) -> Trend:
    """Return one quantity over all rounds that were turned over.

    *point_id* names the place: any round's point there will do.
    """
    person = person_of(session, person_id)
    point = session.get(Point, point_id)
    if point is None:
        raise NotFoundError("point", point_id)
    card = point.card
    lineup = lineup_of(session, person, card.round.lineup_id, "see record")
    group = [p for p in card.points if p is point or p.group == point.group]
    places = {p.id: place_of(card, p) for p in group}
    rounds = [
        (
            r,
            with_earlier(
                round_values(session, r.id, card.apparatus_id), places.values()
            ),
        )
        for r in turned_over(session, lineup.id, card.apparatus_id)
    ]
    changes = _changes(rounds, set(places.values()), baseline_round(session, lineup.id))
    seen = {at: _values_at(rounds, place) for at, place in places.items()}
    cells = _cells(session, card.apparatus_id)
    found = seen[point.id]
    return Trend(
        lineup_id=lineup.id,
        lineup_name=lineup.name,
        site_name=lineup.site.name,
        zone=lineup.site.zone,
        title=PROCEDURES[card.procedure].title,
        where=f"Cell {card.cell.number} · {card.apparatus.label} · {card.detail}",
        point=point.label,
        unit=next((v["value_unit"] for _, v in found if v["value_unit"]), ""),
        said=point.rule.get("said"),
        logarithmic=PROCEDURES[card.procedure].scale == "log",
        corrected=point.rule["correction"]["by"] != "none",
        limit_low=next((v["limit_low"] for _, v in reversed(found)), None),
        limit_high=next((v["limit_high"] for _, v in reversed(found)), None),
        points=_trend_points(found, changes, cells),
        mates=[
            (mate.label, mate.id, _trend_points(seen[mate.id], changes, cells))
            for mate in group
            if mate is not point and seen[mate.id]
        ],
        pressure=pressure_of([v for _, v in found]),
        rows=_rows(card.procedure, found),
        rule=point.rule,
    )


def pressure_of(values: Sequence[Mapping[str, Any]]) -> PressureTrend | None:
    """Return the trend of a place's residual pressures, oldest first; None for none.

    A bound is no pressure: it takes no part.
    """
    read = [v for v in values if v["value_unit"] == "Pa" and v["value"] is not None]
    if not read:
        return None
    return pressure_trend(
        [
            Pressure(
                day=datetime.fromisoformat(v["at"]).date(),
                pa=v["value"],
                u_pa=v["uncertainty"],
            )
            for v in read
            if not (v["over_range"] or v["under_range"])
        ],
        limit_pa=read[-1]["limit_high"],
        floor_pa=_no_trend_below(),
    )


def _no_trend_below() -> float:
    """Return the pressure in Pa below which getter effects hide a leak."""
    table = criteria.load().table("vacuum_pressure_marks")
    row = table.find(lambda r: r["row"].startswith("no trend below"))
    if row is None:
        raise CriteriaError("vacuum_pressure_marks does not say where a trend begins")
    return float(row["from_pa"])


def _rows(
    procedure: str, found: Sequence[tuple[Round, Mapping[str, Any]]]
) -> list[RowSeen]:
    return [
        RowSeen(
            round_title=round_.title,
            at=datetime.fromisoformat(value["at"]),
            series=series,
            steps=parse_series(series.name, value["rows"][series.name]),
            unit=series.unit or value["unit"] or "",
        )
        for series in PROCEDURES[procedure].series
        for round_, value in reversed(found)
        if series.name in value["rows"]
    ]


def _values_at(
    rounds: list[tuple[Round, dict[Place, dict[str, Any]]]], place: Place
) -> list[tuple[Round, dict[str, Any]]]:
    return [(r, values[place]) for r, values in rounds if place in values]


def _changes(
    rounds: Sequence[tuple[Round, Mapping[Place, Mapping[str, Any]]]],
    places: set[Place],
    base: Round | None,
) -> dict[str, float | None]:
    """Return the change of each reading at *places* since the baseline, by its id."""
    from models.analysis.round_frames import (  # noqa: PLC0415 (pandas)
        changes_since,
        rounds_frame,
    )

    here = [
        (r.id, {place: values[place] for place in places & values.keys()})
        for r, values in rounds
    ]
    frame = rounds_frame(here)
    changes = changes_since(frame, base.id if base else None)
    ids = [value["reading_id"] for _, values in here for value in values.values()]
    return {
        each: None if isnan(change) else change
        for each, change in zip(ids, changes.tolist(), strict=True)
    }


def _trend_points(
    found: list[tuple[Round, dict[str, Any]]],
    changes: Mapping[str, float | None],
    cells: Mapping[UUID, str],
) -> list[TrendPoint]:
    return [_trend_point(r, v, changes[v["reading_id"]], cells[r.id]) for r, v in found]


def _cells(session: Session, apparatus_id: UUID) -> dict[UUID, str]:
    """Return the number of the cell in which it was tested, by round."""
    tested = session.scalars(
        select(Card)
        .where(Card.apparatus_id == apparatus_id)
        .options(joinedload(Card.cell))
    )
    return {card.round_id: card.cell.number for card in tested}


def _trend_point(
    round_: Round, value: dict[str, Any], change: float | None, cell: str
) -> TrendPoint:
    return TrendPoint(
        round_id=round_.id,
        round_title=round_.title,
        round_kind=round_.kind,
        cell=cell,
        reading_id=UUID(value["reading_id"]),
        at=datetime.fromisoformat(value["at"]),
        text=value["text"],
        unit=value["unit"],
        value=value["value"],
        verdict=value["verdict"],
        recalled=value["recalled"],
        uncertainty=value["uncertainty"],
        over_range=value["over_range"],
        under_range=value["under_range"],
        change_pct=change,
        judged_again=value["judged_again"],
    )
