"""What is settled in a round, line by line, with the reasons."""

from uuid import UUID
from zoneinfo import ZoneInfo

from models.record.preconditions import LateReading, confirmed_before
from models.schema import Instrument
from models.services.field.card_facts import CardFacts
from models.services.turnover.agreements import waits_for_agreement
from models.services.turnover.gate_inspections import answered_inspections
from models.services.turnover.gate_lines import (
    GateItem,
    GateLine,
    count,
    reading_item,
)


def settled_lines(facts: list[CardFacts]) -> list[GateLine]:
    """Return what was confirmed, calibrated, decided, closed and measured again."""
    lines = []
    by_list = [one for one in facts if one.scopes is None]
    if any(one.readings for one in by_list):
        lines.append(_preconditions(by_list))
    readings = [r for one in facts for r in one.current]
    instruments: dict[UUID, Instrument] = {
        r.instrument.id: r.instrument for r in readings if r.instrument is not None
    }
    if instruments and all(r.calibrated for r in readings):
        lines.append(
            GateLine(
                code="calibration",
                mark="done",
                text="All instruments in calibration on the day of use",
                detail=f"{count(instruments, 'instrument')}: "
                + ", ".join(sorted(i.tag for i in instruments.values())),
            )
        )
    if (answered := answered_inspections(facts)).items:
        lines.append(answered)
    lines.extend(_settled_findings(facts))
    return lines


def _preconditions(facts: list[CardFacts]) -> GateLine:
    """Return what the times say, reading by reading, superseded ones included."""
    zone = ZoneInfo(facts[0].card.round.lineup.site.zone)
    found = confirmed_before([one.value for one in facts], zone)
    confirmations = [c for one in facts for c in one.confirmations]
    people = count({c.by_id for c in confirmations}, "person", "persons")
    detail = f"{count(confirmations, 'confirmation')} by {people}"
    if found.earlier_day:
        detail += (
            f"; for {found.earlier_day} of {found.readings} readings on an earlier day"
        )
    if found.every:
        text = "Preconditions confirmed before every reading"
        return GateLine(code="preconditions", mark="done", text=text, detail=detail)
    return GateLine(
        code="preconditions_late",
        mark="open",
        text=f"{count(found.late, 'reading')} taken before all preconditions "
        "were confirmed",
        detail=detail,
        items=[_late_item(one) for one in found.late],
    )


def _late_item(late: LateReading) -> GateItem:
    return GateItem(
        text=f"{late.card.where} · {late.reading.point}: {late.reading.said}",
        detail=f"Not confirmed by then: {', '.join(late.codes)}",
        action="Read",
        target_kind="reading",
        target_id=late.reading.id,
    )


def _settled_findings(facts: list[CardFacts]) -> list[GateLine]:
    lines = [_disposed(facts), _closed(facts), _superseded(facts)]
    return [line for line in lines if line.items]


def _disposed(facts: list[CardFacts]) -> GateLine:
    items = [
        reading_item(one, r, "Read")
        for one in facts
        for r in one.current
        if (d := one.disposition_of(r)) and d.decision != "reject"
        if d not in waits_for_agreement(one)
    ]
    text = f"{count(items, 'reading')} not within, disposed of"
    return GateLine(code="disposed", mark="done", text=text, items=items)


def _closed(facts: list[CardFacts]) -> GateLine:
    items = [
        GateItem(
            text=f"D-{d.number:03d} · {d.text}",
            detail=d.closing.text,
            action="Read",
            target_kind="deficiency",
            target_id=d.id,
        )
        for one in facts
        for d in one.deficiencies
        if d.closing
    ]
    text = f"{count(items, 'deficiency', 'deficiencies')} closed"
    return GateLine(code="closed", mark="done", text=text, items=items)


def _superseded(facts: list[CardFacts]) -> GateLine:
    items = [
        reading_item(one, r, "Read", reason=newer.reason)
        for one in facts
        for r in one.readings
        if (newer := one.successor_of(r)) is not None
    ]
    text = f"{count(items, 'superseded reading')}, kept with the reason"
    return GateLine(code="superseded", mark="done", text=text, items=items)
