"""Hold, witness and review points in the gate: what waits, and what came of it."""

from collections.abc import Iterator

from models.record.inspection import KINDS, SAID, WITHDRAWN
from models.schema import InspectionPoint, Reading
from models.services.field.card_facts import CardFacts
from models.services.field.card_values import where
from models.services.turnover.gate_lines import (
    GateItem,
    GateLine,
    count,
    reading_item,
)

WAITS = {
    "hold": "that nobody released",
    "witness": "without presence, or absence after notice",
    "review": "not reviewed",
}


def inspection_lines(facts: list[CardFacts]) -> list[GateLine]:
    """Return a line for each kind of point that waits, and one for what came early."""
    return [*(_waiting(facts, kind) for kind in KINDS), _before_release(facts)]


def answered_inspections(facts: list[CardFacts]) -> GateLine:
    """Return the line of the points that are answered; without items where none is."""
    items = [
        _item(
            one,
            point,
            f"{SAID[point.answer.answer]}, recorded by {point.answer.by.name}",
        )
        for one, point in _points(facts)
        if point.answer
    ]
    return GateLine(
        code="inspections_answered",
        mark="done",
        text=f"{count(items, 'hold, witness or review point')} answered",
        items=items,
    )


def before_release(facts: CardFacts) -> list[Reading]:
    """Return the readings that hold and were taken before a hold point's release.

    A point that was set only afterwards asks for nothing of them.
    """
    holds = [
        point
        for point in facts.inspections
        if point.kind == "hold"
        and not (point.answer and point.answer.answer == WITHDRAWN)
    ]
    return [
        reading
        for reading in facts.current
        if any(_is_early(reading, point) for point in holds)
    ]


def _is_early(reading: Reading, point: InspectionPoint) -> bool:
    if reading.taken_at < point.at:
        return False
    return point.answer is None or reading.taken_at < point.answer.at


def _points(facts: list[CardFacts]) -> Iterator[tuple[CardFacts, InspectionPoint]]:
    for one in facts:
        if one.state != "withdrawn":
            yield from ((one, point) for point in one.inspections)


def _waiting(facts: list[CardFacts], kind: str) -> GateLine:
    items = [
        _item(one, point, f"waits for {point.party}")
        for one, point in _points(facts)
        if point.kind == kind and point.answer is None
    ]
    return GateLine(
        code=f"inspection_{kind}",
        mark="open",
        text=f"{count(items, KINDS[kind])} {WAITS[kind]}",
        items=items,
    )


def _item(facts: CardFacts, point: InspectionPoint, said: str) -> GateItem:
    return GateItem(
        text=f"{where(facts)} · {KINDS[point.kind]}",
        detail=f"{said}: {point.reason}",
        action="Open",
        target_kind="inspection",
        target_id=point.id,
    )


def _before_release(facts: list[CardFacts]) -> GateLine:
    items = [
        reading_item(
            one,
            reading,
            "Have it repeated",
            reason="Taken before the hold point of its card was released: measure it "
            "again, or withdraw the point with a reason.",
        )
        for one in facts
        if one.state != "withdrawn"
        for reading in before_release(one)
    ]
    return GateLine(
        code="before_release",
        mark="open",
        text=f"{count(items, 'reading')} taken before a hold point was released",
        items=items,
    )
