"""The baseline cell by cell, as the gear book lays it out."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from models.record.verdicts import VERDICTS
from models.services.owner.gear_book import BookRow


@dataclass(frozen=True, slots=True, kw_only=True)
class CellPart:
    """A cell's points, card by card, with what stands out among them.

    `findings` counts the newest readings that are not within, by verdict;
    `furthest` is the change in percent of the point that got worse the most.
    """

    name: str
    points: int
    findings: list[tuple[str, int]]
    furthest: float | None
    cards: list[list[BookRow]]


def cell_parts(rows: Sequence[BookRow]) -> list[CellPart]:
    """Return *rows*, which come cell by cell, in parts."""
    return [_part(name, list(part)) for name, part in groupby(rows, lambda r: r.cell)]


def _part(name: str, rows: list[BookRow]) -> CellPart:
    newest = [row.latest or row.baseline for row in rows]
    counts = Counter(value["verdict"] for value in newest if value)
    worst = max(rows, key=lambda row: row.worse or 0.0)
    return CellPart(
        name=name,
        points=len(rows),
        findings=[
            (verdict, counts[verdict]) for verdict in VERDICTS[1:] if counts[verdict]
        ],
        furthest=worst.change_pct if worst.worse and worst.worse > 0 else None,
        cards=[list(card) for _, card in groupby(rows, lambda row: row.place)],
    )
