"""What a page shows of a draft before it is saved: elevation, counts, remarks."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from models.fields import field
from models.judging.wording import plain
from models.procedures.plates import apparatus_kinds
from models.record.lineup_draft import LineupDraft
from models.record.ratings import Remark, ratings_remarks
from webapp.elevation_rows import elevation_rows

RATED = ("rated_kv", "rated_impulse_kv", "rated_withstand_kv", "rated_a", "rated_ka")


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """A draft as it would stand: drawings a row, facts as (what, value), remarks."""

    drawings: Sequence[Markup]
    facts: Sequence[tuple[str, str]]
    remarks: Sequence[Remark]


def preview_of(draft: LineupDraft) -> Preview:
    """Return what is shown of *draft*."""
    return Preview(
        drawings=elevation_rows(
            _cells(draft),
            hrefs=[],
            ratings=_ratings(draft),
            gear=draft.gear,
            title=f"Front elevation of {draft.name}",
        ),
        facts=_facts(draft),
        remarks=ratings_remarks(draft),
    )


def _cells(draft: LineupDraft) -> list[dict[str, str]]:
    rated = {
        one.name: f"{one.name} · {plain(one.rated_a)} A"
        for one in draft.sections
        if one.rated_a is not None
    }
    return [
        {
            "number": cell.number,
            "name": cell.name,
            "kind": cell.kind,
            "bus": rated.get(cell.bus, cell.bus),
        }
        for cell in draft.cells
    ]


def _ratings(draft: LineupDraft) -> str:
    return " · ".join(
        f"{plain(draft.ratings[name])} {field(name).said_unit}"
        for name in RATED
        if name in draft.ratings
    )


def _facts(draft: LineupDraft) -> list[tuple[str, str]]:
    kinds = Counter(one.kind for _, one in draft.apparatus())
    sections = ", ".join(one.name for one in draft.sections)
    return [
        ("Gear", field("gear").choice_words(draft.gear)),
        ("Bus sections", sections),
        ("Cells", str(len(draft.cells))),
        ("Apparatus", str(kinds.total())),
        *((apparatus_kinds()[kind].label, str(n)) for kind, n in kinds.items()),
    ]
