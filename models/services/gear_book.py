"""The gear book: an owner's view of a lineup over the years."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.errors import NotFoundError
from models.judging import PROCEDURES
from models.schema import Apparatus, Card, Cell, Lineup, Package, Point, Round
from models.services.access import lineup_of, person_of, visible_sites
from models.services.baseline import (
    Place,
    baseline_round,
    place_of,
    round_values,
)
from models.services.card_view import round_cards
from models.services.list_rounds import RoundSummary, summarise
from models.services.nameplate import (
    GEAR_NAMES,
    lineup_nameplate,
    nameplate_lines,
    ratings_line,
)
from models.services.seals_wanted import latest_package

# Quantities read on a logarithmic scale: they move over decades.
LOGARITHMIC = ("insulation_resistance", "vacuum_integrity")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupSummary:
    """A lineup in the list of gear books."""

    id: UUID
    name: str
    site_name: str
    gear: str
    ratings: str
    cells: int
    rounds: int
    baseline_at: datetime | None
    baseline_state: str  # none, approved, accepted


@dataclass(frozen=True, slots=True, kw_only=True)
class BookRow:
    """One point: its baseline, and the latest round's reading beside it."""

    point_id: UUID  # of the baseline's point: names the trend
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


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendPoint:
    """One round's reading of a quantity, at the reference temperature."""

    round_id: UUID
    round_title: str
    at: datetime
    text: str
    unit: str | None
    value: float | None
    verdict: str
    uncertainty: float | None
    over_range: bool
    under_range: bool
    change_pct: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """One quantity at one point over the rounds."""

    lineup_id: UUID
    lineup_name: str
    site_name: str
    zone: str
    title: str
    where: str
    point: str
    unit: str
    logarithmic: bool
    limit_low: float | None
    limit_high: float | None
    points: list[TrendPoint]


def list_lineups(session: Session, *, person_id: UUID) -> list[LineupSummary]:
    """Return the lineups that the person may see."""
    person = person_of(session, person_id)
    rows = session.scalars(
        select(Lineup)
        .where(Lineup.site_id.in_(visible_sites(person)))
        .options(joinedload(Lineup.site), selectinload(Lineup.cells))
    ).unique()
    summaries = []
    for row in rows:
        rounds = session.scalars(select(Round).where(Round.lineup_id == row.id)).all()
        base = baseline_round(session, row.id)
        summaries.append(
            LineupSummary(
                id=row.id,
                name=row.name,
                site_name=row.site.name,
                gear=row.gear,
                ratings=ratings_line(row),
                cells=len(row.cells),
                rounds=len(rounds),
                baseline_at=base.opened_at if base else None,
                baseline_state=base.state if base else "none",
            )
        )
    return sorted(summaries, key=lambda s: (s.site_name, s.name))


def gear_book(session: Session, *, person_id: UUID, lineup_id: UUID) -> GearBook:
    """Return the lineup's gear book; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    lineup = lineup_of(session, person, lineup_id)
    turned_over = _turned_over(session, lineup.id)
    base = baseline_round(session, lineup.id)
    later = [r for r in turned_over if r.kind == "maintenance"]
    summaries = [summarise(session, r, person.id) for r in turned_over]
    packages = {
        r.id: package
        for r in turned_over
        if (package := latest_package(session, r.id)) is not None
    }
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
        packages=packages,
        baseline_round=next((s for s in summaries if base and s.id == base.id), None),
        rows=_rows(session, base, later[-1] if later else None),
    )


def trend(session: Session, *, person_id: UUID, point_id: UUID) -> Trend:
    """Return one quantity over all rounds that were turned over.

    *point_id* names the place: any round's point there will do.
    """
    person = person_of(session, person_id)
    point = session.get(Point, point_id)
    if point is None:
        raise NotFoundError("point", point_id)
    card = point.card
    lineup = lineup_of(session, person, card.round.lineup_id)
    place = place_of(card, point)
    found: list[tuple[Round, dict[str, Any]]] = []
    for round_ in _turned_over(session, lineup.id):
        value = round_values(session, round_.id).get(place)
        if value is not None:
            found.append((round_, value))
    base = next((v for r, v in found if r.kind == "acceptance"), None)
    return Trend(
        lineup_id=lineup.id,
        lineup_name=lineup.name,
        site_name=lineup.site.name,
        zone=lineup.site.zone,
        title=PROCEDURES[card.procedure].title,
        where=f"Cell {card.apparatus.cell.number} · {card.apparatus.label} · "
        f"{card.detail}",
        point=point.label,
        unit=next((v["value_unit"] for _, v in found if v["value_unit"]), ""),
        logarithmic=card.procedure in LOGARITHMIC,
        limit_low=next((v["limit_low"] for _, v in reversed(found)), None),
        limit_high=next((v["limit_high"] for _, v in reversed(found)), None),
        points=[_trend_point(r, v, base) for r, v in found],
    )


def change_pct(
    value: dict[str, Any] | None, base: dict[str, Any] | None
) -> float | None:
    """Return the change from the baseline in percent; None where it has no meaning.

    An over-range or under-range reading is a bound, not a number.
    """
    if not value or not base or value is base:
        return None
    if any(v["over_range"] or v["under_range"] for v in (value, base)):
        return None
    if value["value"] is None or not base["value"]:
        return None
    return float(100 * (value["value"] / base["value"] - 1))


def _turned_over(session: Session, lineup_id: UUID) -> list[Round]:
    return list(
        session.scalars(
            select(Round)
            .where(
                Round.lineup_id == lineup_id,
                Round.state.in_(("approved", "accepted")),
            )
            .options(joinedload(Round.lineup).joinedload(Lineup.site))
            .order_by(Round.opened_at)
        )
    )


def _cells(session: Session, lineup_id: UUID) -> list[dict[str, Any]]:
    cells = session.scalars(
        select(Cell)
        .where(Cell.lineup_id == lineup_id)
        .options(selectinload(Cell.apparatus))
        .order_by(Cell.position)
    )
    return [
        {
            "id": str(cell.id),
            "number": cell.number,
            "name": cell.name,
            "kind": cell.kind,
            "bus": cell.bus,
            "apparatus": [
                {
                    "id": a.id,
                    "label": a.label,
                    "kind": a.kind,
                    "nameplate": nameplate_lines(a.nameplate),
                }
                for a in cell.apparatus
            ],
        }
        for cell in cells
    ]


def _rows(session: Session, base: Round | None, latest: Round | None) -> list[BookRow]:
    if base is None:
        return []
    values = round_values(session, base.id)
    newer = round_values(session, latest.id) if latest else {}
    return [
        _row(card, point, values, newer, latest)
        for card in round_cards(session, base.id)
        for point in card.points
    ]


def _row(
    card: Card,
    point: Point,
    values: dict[Place, dict[str, Any]],
    newer: dict[Place, dict[str, Any]],
    latest: Round | None,
) -> BookRow:
    place = place_of(card, point)
    apparatus: Apparatus = card.apparatus
    return BookRow(
        point_id=point.id,
        cell=f"{apparatus.cell.number} {apparatus.cell.name}",
        apparatus=apparatus.label,
        procedure=card.procedure,
        title=PROCEDURES[card.procedure].title,
        detail=card.detail,
        point=point.label,
        baseline=values.get(place),
        latest=newer.get(place),
        latest_round=latest.title if latest and place in newer else None,
        change_pct=change_pct(newer.get(place), values.get(place)),
    )


def _trend_point(
    round_: Round, value: dict[str, Any], base: dict[str, Any] | None
) -> TrendPoint:
    return TrendPoint(
        round_id=round_.id,
        round_title=round_.title,
        at=datetime.fromisoformat(value["at"]),
        text=value["text"],
        unit=value["unit"],
        value=value["value"],
        verdict=value["verdict"],
        uncertainty=value["uncertainty"],
        over_range=value["over_range"],
        under_range=value["under_range"],
        change_pct=change_pct(value, base),
    )
