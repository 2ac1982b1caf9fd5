"""What the gate says of safety: what was stated, what was not as usual, what is open.

The lines rest on the safety report of the package (`models.record.safety_report`), so
that the gate and the printed page say the same.
"""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from models.services.turnover.gate_lines import GateItem, GateLine, count

Report = Mapping[str, Any]
Row = Mapping[str, Any]


def safety_to_settle(round_id: UUID, report: Report | None) -> list[GateLine]:
    """Return what blocks turnover: parts that are not put back."""
    line = _not_put_back(report, round_id) if report else None
    return [line] if line and line.items else []


def safety_listed(round_id: UUID, report: Report | None) -> list[GateLine]:
    """Return what is listed and blocks nothing; what is not as usual comes first."""
    if report is None:
        return []
    lines = [
        _outside(report),
        _stops(report, round_id, in_force=True),
        _clearances(report, round_id),
        _of_kind(report, round_id, "override", "line or condition", SET_ASIDE),
        _of_kind(report, round_id, "not_applicable", "line", NOT_APPLICABLE),
        _of_kind(report, round_id, "lapse", "lapse", LAPSED),
        _stops(report, round_id, in_force=False),
    ]
    stated = _stated(report)
    return [*([stated] if stated else []), *(line for line in lines if line.items)]


SET_ASIDE = "set aside by name"
NOT_APPLICABLE = "of safety said not to apply, each with its reason"
LAPSED = "of a scope while cards were worked"


def _stated(report: Report) -> GateLine | None:
    cards = report["cards"]
    if not cards["cards"]:
        return None
    people = "1 person" if cards["people"] == 1 else f"{cards['people']} people"
    shifts = count(report["crews"], "shift")
    held = count(report["clearances"], "clearance")
    every = cards["outside"] == 0
    return GateLine(
        code="safety",
        mark="done" if every else "open",
        text="Scopes of safety stood at every reading"
        if every
        else "Scopes of safety did not stand at every reading",
        detail=f"{cards['before']} lines before the first reading, {cards['after']} "
        f"after the last, by {people}; {shifts}, {held}",
    )


def _outside(report: Report) -> GateLine:
    items = [
        GateItem(
            text=f"{row['where']} · {row['by']}",
            detail=row["what"],
            action="Read",
            target_kind="reading",
            target_id=UUID(row["reading"]),
        )
        for row in _rows(report, "outside")
    ]
    return GateLine(
        code="safety_outside",
        mark="open",
        text=f"{count(items, 'reading')} taken outside a standing scope of safety",
        items=items,
    )


def _not_put_back(report: Report, round_id: UUID) -> GateLine:
    items = [
        _item(round_id, f"{row['where']}: {row['what']}", f"Taken out by {row['by']}")
        for row in _rows(report, "not_put_back")
    ]
    return GateLine(
        code="safety_put_back",
        mark="open",
        text=f"{count(items, 'entry', 'entries')} of the put-back list still out",
        items=items,
    )


def _clearances(report: Report, round_id: UUID) -> GateLine:
    """Return the clearances that are held: other work may go on under them."""
    items = [
        _item(
            round_id,
            f"Clearance {row['number']}, {row['section']}, held by {row['holder']}",
            _grounds_on(row["grounds_on"] - row["grounds_off"]),
        )
        for row in report["clearances"]
        if row["returned"] is None
    ]
    return GateLine(
        code="safety_clearance",
        mark="open",
        text=f"{count(items, 'clearance')} not handed back",
        items=items,
    )


def _grounds_on(number: int) -> str:
    return f"{number} {'ground' if number == 1 else 'grounds'} on"


def _stops(report: Report, round_id: UUID, *, in_force: bool) -> GateLine:
    items = [
        _item(round_id, f"Stopped by {row['by']}", _released(row))
        for row in _rows(report, "stop")
        if (row["until"] is None) is in_force
    ]
    said = "in force on the site" if in_force else "released"
    return GateLine(
        code="safety_stop" if in_force else "safety_stops",
        mark="open" if in_force else "done",
        text=f"{count(items, 'stop of the work', 'stops of the work')} {said}",
        items=items,
    )


def _released(row: Row) -> str:
    if row["until"] is None:
        return "Nobody has released it yet"
    agreed = "who pressed agreed" if row["agreed"] else "who pressed did not agree"
    names = ", ".join(row["names"])
    return f"Released by {names}, {agreed}: {row['reason']}; {row['what']}"


def _of_kind(
    report: Report, round_id: UUID, kind: str, noun: str, said: str
) -> GateLine:
    items = [
        _item(round_id, f"{row['where']}: {_what(row)}", _why(row))
        for row in _rows(report, kind)
    ]
    many = "lines or conditions" if " or " in noun else ""
    return GateLine(
        code=f"safety_{kind}",
        mark="done",
        text=f"{count(items, noun, many)} {said}",
        items=items,
    )


def _what(row: Row) -> str:
    return f"{row['code']} {row['what']}".strip()


def _why(row: Row) -> str:
    names = f"; agreed by {', '.join(row['names'])}" if row["names"] else ""
    closed = ", ".join(str(sheet) for sheet in row["sheets"])
    cards = f"; it closed the cards {closed}" if closed else ""
    return (
        f"{row['by']}: {row['reason']}{names}{cards}"
        if row["reason"]
        else (f"{row['by']}{names}{cards}")
    )


def _item(round_id: UUID, text: str, detail: str) -> GateItem:
    return GateItem(
        text=text,
        detail=detail,
        action="Open safety",
        target_kind="safety",
        target_id=round_id,
    )


def _rows(report: Report, kind: str) -> list[Row]:
    return [row for row in report["exceptions"] if row["kind"] == kind]
