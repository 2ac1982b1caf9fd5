"""The gear book: an owner's view of a lineup over the years."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.analysis.pressure_trend import REACHED, PressureTrend
from models.procedures import PROCEDURES
from models.schema import Apparatus, Card, Cell, Package, Point
from models.services.field.card_facts import gather_readings, round_cards
from models.services.field.card_view import identity_json
from models.services.owner.baseline import (
    Place,
    baseline_round,
    forecast_values,
    place_of,
    turned_over,
    values_of,
)
from models.services.owner.gas_inventory import GasSum, TankGas, by_gas, gas_inventory
from models.services.owner.trends import pressure_of
from models.services.people.access import lineup_of, person_of
from models.services.setup.nameplate import (
    GEAR_NAMES,
    lineup_nameplate,
    nameplate_lines,
    ratings_line,
)
from models.services.turnover.deviations import Deviation, deviations_of
from models.services.turnover.list_rounds import RoundSummary, summaries_of
from models.services.turnover.seals_wanted import latest_packages

# Of a point, what its row in the book does not repeat: the file has it.
NOT_SHOWN = ("apparatus_id", "maker", "type", "serial", "built_year")
MOST = 6  # lines of the list of what moved most


@dataclass(frozen=True, slots=True, kw_only=True)
class BookRow:
    """One point: its baseline, and the latest round's reading beside it.

    What was placed or added since the baseline has none; what was taken out since has
    no latest reading.
    `worse` is how far the quantity went the wrong way, as a natural logarithm of
    the ratio: positive is worse. Insulation falls, contact resistance and
    pressure rise, a relay's time may go either way.
    """

    point_id: UUID  # of the baseline's point, or the latest: names the trend
    at: Place
    cell_number: str
    cell: str
    apparatus: str
    procedure: str
    title: str
    detail: str
    point: str
    baseline: dict[str, Any] | None
    latest: dict[str, Any] | None
    latest_round: str | None
    change_pct: float | None
    worse: float | None
    corrected: bool  # to the reference temperature
    moved_to: str  # where its apparatus stands now; empty where it was tested

    @property
    def place(self) -> tuple[str, str, str, str]:
        """What rows belong together by: one card's worth of points."""
        return (self.cell, self.apparatus, self.procedure, self.detail)


@dataclass(frozen=True, slots=True, kw_only=True)
class GearBook:
    """All that an owner's engineer looks up about a lineup."""

    id: UUID
    name: str
    site_name: str
    site_address: str
    zone: str
    gear: str
    gear_name: str
    ratings: str
    nameplate: list[tuple[str, str]]
    cells: list[dict[str, Any]]
    rounds: list[RoundSummary]
    packages: dict[UUID, Package]
    baseline_round: RoundSummary | None
    rows: list[BookRow]
    table: Any  # the rows as a frame: `compare_rounds`
    latest_round: str | None  # that stands beside the baseline
    pressures: list[tuple[BookRow, PressureTrend]]  # the least time left first
    gas: list[TankGas]  # of which gas was moved
    deviations: list[Deviation]

    @property
    def gas_sums(self) -> dict[str, GasSum]:
        """What was moved of each gas, all tanks together."""
        return by_gas(self.gas)

    @property
    def moved(self) -> list[BookRow]:
        """The points that went the wrong way furthest since the baseline."""
        worse = [row for row in self.rows if row.worse is not None and row.worse > 0]
        return sorted(worse, key=lambda r: r.worse or 0.0, reverse=True)[:MOST]


def gear_book(session: Session, *, person_id: UUID, lineup_id: UUID) -> GearBook:
    """Return the lineup's gear book; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    lineup = lineup_of(session, person, lineup_id, "see record")
    over = turned_over(session, lineup.id)
    base = baseline_round(session, lineup.id)
    later = [r for r in over if r.kind == "maintenance"]
    summaries = summaries_of(session, over)
    latest = later[-1] if later else None
    shown = {one.id for one in (base, latest) if one}
    facts = gather_readings(session, round_cards(session, *shown)).values()
    of_base = [one for one in facts if base and one.card.round_id == base.id]
    of_latest = [one for one in facts if latest and one.card.round_id == latest.id]
    points = _points([one.card for one in (*of_base, *of_latest)])
    then, now = values_of(of_base), values_of(of_latest)
    table = _compared(points, then, now)
    rows = _rows(points, table, then, now, latest.title if latest else None)
    return GearBook(
        id=lineup.id,
        name=lineup.name,
        site_name=lineup.site.name,
        site_address=lineup.site.address,
        zone=lineup.site.zone,
        gear=lineup.gear,
        gear_name=GEAR_NAMES[lineup.gear],
        ratings=ratings_line(lineup),
        nameplate=lineup_nameplate(lineup),
        cells=_cells(session, lineup.id),
        rounds=summaries,
        packages=latest_packages(session, [r.id for r in over]),
        baseline_round=next((s for s in summaries if base and s.id == base.id), None),
        rows=rows,
        table=table,
        latest_round=latest.title if latest else None,
        gas=gas_inventory(session, over, lineup.site.zone),
        pressures=_pressures(rows, forecast_values(session, over)),
        deviations=deviations_of(session, over[::-1]),
    )


def _cells(session: Session, lineup_id: UUID) -> list[dict[str, Any]]:
    cells = session.scalars(
        select(Cell)
        .where(Cell.lineup_id == lineup_id, Cell.removed.is_(False))
        .options(selectinload(Cell.apparatus))
        .order_by(Cell.position)
    )
    return [
        {
            "id": str(cell.id),
            "number": cell.number,
            "name": cell.name,
            "kind": cell.kind,
            "bus": cell.bus_label,
            "apparatus": [
                {
                    "id": a.id,
                    "label": a.label,
                    "kind": a.kind,
                    "nameplate": nameplate_lines(a.plate),
                }
                for a in cell.apparatus
            ],
        }
        for cell in cells
    ]


def _pressures(
    rows: Iterable[BookRow], rounds: Sequence[Mapping[Place, dict[str, Any]]]
) -> list[tuple[BookRow, PressureTrend]]:
    """Return the residual pressures' trends, *rounds* oldest first."""
    found = []
    for row in rows:
        seen = [values[row.at] for values in rounds if row.at in values]
        trend = pressure_of(seen) if PROCEDURES[row.procedure].forecast else None
        if trend is not None:
            found.append((row, trend))
    return sorted(found, key=lambda pair: _years_left(pair[1]))


def _years_left(trend: PressureTrend) -> float:
    if trend.reason == REACHED:
        return 0.0
    about = trend.left.about if trend.left else None
    return math.inf if about is None else about


def _points(cards: Iterable[Card]) -> list[dict[str, Any]]:
    """Return the points of the cards, each place once, from the left.

    What was placed there since the baseline stands behind what the baseline tested.
    """
    found: dict[Place, tuple[int, dict[str, Any]]] = {}
    for card in cards:
        for point in card.points:
            named = (card.cell.position, _point(card, point))
            found.setdefault(place_of(card, point), named)
    return [named for _, named in sorted(found.values(), key=lambda one: one[0])]


def _point(card: Card, point: Point) -> dict[str, Any]:
    """Return what names a point."""
    apparatus: Apparatus = card.apparatus
    return {
        "point_id": point.id,
        "at": place_of(card, point),
        "apparatus_id": apparatus.id,
        "cell_number": card.cell.number,
        "cell": f"{card.cell.number} {card.cell.name}",
        "apparatus": apparatus.label,
        **identity_json(apparatus),
        "procedure": card.procedure,
        "title": PROCEDURES[card.procedure].title,
        "detail": card.detail,
        "point": point.label,
        "corrected": point.rule["correction"]["by"] != "none",
        "moved_to": "" if apparatus.cell_id == card.cell_id else apparatus.where,
    }


def _compared(
    points: Sequence[Mapping[str, Any]],
    then: Mapping[Place, Mapping[str, Any]],
    now: Mapping[Place, Mapping[str, Any]],
) -> Any:
    """Return the frame of the points with both rounds' readings and their change."""
    from models.analysis.round_frames import (  # noqa: PLC0415 (pandas)
        compare_rounds,
        points_frame,
        round_frame,
    )

    worse = {name: one.worse for name, one in PROCEDURES.items()}
    return compare_rounds(
        points_frame(points), round_frame(then), round_frame(now), worse
    )


def _rows(
    points: Sequence[Mapping[str, Any]],
    table: Any,
    then: Mapping[Place, dict[str, Any]],
    now: Mapping[Place, dict[str, Any]],
    latest_round: str | None,
) -> list[BookRow]:
    compared = zip(points, table["change_pct"], table["worse"], strict=True)
    return [
        BookRow(
            **{name: value for name, value in point.items() if name not in NOT_SHOWN},
            baseline=then.get(point["at"]),
            latest=now.get(point["at"]),
            latest_round=latest_round if point["at"] in now else None,
            change_pct=_known(change),
            worse=_known(worse),
        )
        for point, change, worse in compared
    ]


def _known(number: float) -> float | None:
    return None if math.isnan(number) else float(number)
