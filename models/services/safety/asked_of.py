"""What is asked of planned work: the same for every call until the plan changes."""

from dataclasses import dataclass
from threading import Lock
from typing import Any

from models.criteria import safety as lines
from models.criteria.safety import Work
from models.record.shapes.safety import BookLine, CardLists

REMEMBERED = 32  # rounds at work at the same time: some hundred kB each
_known: dict[Any, "AskedOf"] = {}
_lock = Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedOf:
    """The codes that crew, clearance, cells and cards ask, and their lines; to read."""

    crew: list[str]
    isolation: list[str]
    points: dict[str, list[str]]
    cards: dict[str, CardLists]
    lines: dict[str, BookLine]


def asked_of(work: Work) -> AskedOf:
    """Return what the work asks, worked out once: it rests on the plan alone."""
    key = _key(work)
    with _lock:
        if (found := _known.pop(key, None)) is None:
            found = _worked_out(work)
        _known[key] = found  # the newest last
        while len(_known) > REMEMBERED:
            del _known[next(iter(_known))]
    return found


def _key(work: Work) -> Any:
    """Return all that what is asked depends on."""
    cells = tuple(
        (one.id, one.bus, tuple(one.kinds), one.drawn, tuple(one.known.items()))
        for one in work.cells
    )
    cards = tuple(
        (
            one.id,
            one.procedure,
            one.apparatus,
            one.kind,
            one.cell,
            tuple(one.known.items()),
        )
        for one in work.cards
    )
    return work.gear, cells, cards, tuple(work.known.items())


def _worked_out(work: Work) -> AskedOf:
    crew, isolation = lines.crew_codes([work]), lines.isolation_codes([work])
    points = {cell.id: lines.point_codes(work, cell) for cell in work.cells}
    cards = {card.id: lines.card_lists(work, card) for card in work.cards}
    codes = {
        *crew,
        *isolation,
        *lines.return_codes(),
        *(code for part in points.values() for code in part),
        *(code for part in cards.values() for code in _of_card(part)),
    }
    return AskedOf(
        crew=crew,
        isolation=isolation,
        points=points,
        cards=cards,
        lines=lines.book_lines(codes),
    )


def _of_card(lists: CardLists) -> list[str]:
    return [
        code
        for part in lists["lists"].values()
        for name in ("before", "after")
        for code in part[name]
    ]
