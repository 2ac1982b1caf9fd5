"""What still stands between a round and its turnover, line by line."""

from collections.abc import Sequence
from typing import Any

from models.record.card import unanswered, unread_points
from models.record.signing import performers
from models.schema import CardWithdrawal, Disposition, NameplateVersion
from models.services.field.card_facts import CardFacts
from models.services.field.card_values import said_reading, where
from models.services.field.sign_cards import what_is_missing
from models.services.turnover.agreements import waits_for_agreement
from models.services.turnover.gate_inspections import inspection_lines
from models.services.turnover.gate_lines import (
    GateItem,
    GateLine,
    card_item,
    count,
    reading_item,
)
from models.services.turnover.to_dispose import uncalibrated, undisposed


def open_lines(
    facts: list[CardFacts], unconfirmed: Sequence[NameplateVersion] = ()
) -> list[GateLine]:
    """Return what is to be settled before the package can be signed.

    *unconfirmed* are the nameplates that limits rest on and no second person confirmed.
    """
    lines = [
        *(_undisposed(facts, verdict) for verdict in ("outside", "marginal")),
        _undisposed(facts, "unjudged"),
        _rejected(facts),
        _not_agreed(facts),
        _nothing_tested(facts),
        _without_readings(facts),
        _unsigned(facts),
        _deficiencies(facts),
        _out_of_calibration(facts),
        _unconfirmed(unconfirmed),
        *inspection_lines(facts),
    ]
    return [line for line in lines if line.items]


def _undisposed(facts: list[CardFacts], verdict: str) -> GateLine:
    items = [
        reading_item(one, reading, "Dispose")
        for one in facts
        for reading in undisposed(one, verdict)
    ]
    return GateLine(
        code=f"undisposed_{verdict}",
        mark=verdict,
        text=f"{count(items, 'reading')} {verdict} without a disposition",
        items=items,
    )


def _rejected(facts: list[CardFacts]) -> GateLine:
    items = [
        reading_item(one, reading, "Have it repeated")
        for one in facts
        for reading in one.current
        if (found := one.disposition_of(reading)) and found.decision == "reject"
    ]
    return GateLine(
        code="rejected",
        mark="open",
        text=f"{count(items, 'rejected reading')} to be put right and repeated",
        items=items,
    )


def _not_agreed(facts: list[CardFacts]) -> GateLine:
    items = [
        GateItem(
            text=_agreed_text(one, subject),
            detail=f"{subject.by.name}: {subject.reason}",
            action="Open",
            target_kind="agreement",
            target_id=subject.id,
        )
        for one in facts
        for subject in waits_for_agreement(one)
    ]
    verb = "waits" if len(items) == 1 else "wait"
    return GateLine(
        code="agreement",
        mark="open",
        text=f"{count(items, 'decision')} that {verb} for a second person to agree",
        items=items,
    )


def _agreed_text(facts: CardFacts, subject: Disposition | CardWithdrawal) -> str:
    if isinstance(subject, CardWithdrawal):
        return f"{where(facts)}: withdrawn"
    reading = subject.reading
    said = f"{reading.point.label}: {said_reading(reading)}"
    return f"{where(facts)} · {said}, outside, let stand"


def _nothing_tested(facts: list[CardFacts]) -> GateLine:
    standing = [one for one in facts if one.state != "withdrawn"]
    items = []
    if facts and not standing:
        items = [card_item(facts[0], "Every card was withdrawn", "Show card")]
    text = "Nothing was tested"
    return GateLine(code="untested", mark="open", text=text, items=items)


def _without_readings(facts: list[CardFacts]) -> GateLine:
    items = []
    for one in facts:
        if one.state in ("signed", "withdrawn"):
            continue
        if what_is_missing(one):
            items.append(card_item(one, _what_lacks(one), "Show card"))
    return GateLine(
        code="incomplete",
        mark="open",
        text=f"{count(items, 'card')} not complete",
        items=items,
    )


def _what_lacks(facts: CardFacts) -> str:
    if facts.state == "not_begun":
        return "Not begun"
    unread, open_codes = unread_points(facts.value), unanswered(facts.value)
    parts = []
    if unread:
        parts.append(f"no reading yet at {', '.join(unread)}")
    if open_codes:
        parts.append(_still_to_state(facts, open_codes))
    said = "; ".join(parts)
    return said[:1].upper() + said[1:]


def _still_to_state(facts: CardFacts, codes: Sequence[str]) -> str:
    if facts.scopes is None:
        return f"{count(codes, 'precondition')} still to answer"
    said = count(codes, "line")
    return f"{said} after the test still to be given: {', '.join(codes)}"


def _unsigned(facts: list[CardFacts]) -> GateLine:
    items = []
    for one in facts:
        if one.state in ("signed", "withdrawn") or what_is_missing(one):
            continue
        items.append(card_item(one, _who_is_to_sign(one), "Show card"))
    return GateLine(
        code="unsigned",
        mark="open",
        text=f"{count(items, 'card')} not signed as performed",
        items=items,
    )


def _who_is_to_sign(facts: CardFacts) -> str:
    waiting = " and ".join(p.name for p in performers(facts.value) if not p.signed)
    if facts.state == "signing":
        return f"Waits for the signature of {waiting}, who took readings on it"
    if facts.state == "returned":
        return "Returned to the technician"
    return f"Complete, not signed by {waiting}"


def _deficiencies(facts: list[CardFacts]) -> GateLine:
    items = [
        GateItem(
            text=f"D-{d.number:03d} · {d.text}",
            detail=f"{where(one)} · held by {d.holder}",
            action="Open",
            target_kind="deficiency",
            target_id=d.id,
        )
        for one in facts
        for d in one.deficiencies
        if d.closing is None and d.severity == "stops_turnover"
    ]
    verb = "stops" if len(items) == 1 else "stop"
    return GateLine(
        code="deficiencies",
        mark="open",
        text=f"{count(items, 'open deficiency', 'open deficiencies')} "
        f"that {verb} turnover",
        items=items,
    )


def _out_of_calibration(facts: list[CardFacts]) -> GateLine:
    items = [
        reading_item(one, reading, "Have it repeated")
        for one in facts
        for reading in uncalibrated(one)
    ]
    return GateLine(
        code="calibration",
        mark="open",
        text=f"{count(items, 'reading')} with an instrument out of calibration "
        "on the day",
        items=items,
    )


def _unconfirmed(versions: Sequence[NameplateVersion]) -> GateLine:
    verb = "is" if len(versions) == 1 else "are"
    return GateLine(
        code="nameplates",
        mark="open",
        text=f"{count(versions, 'nameplate')} that limits rest on "
        f"{verb} to be confirmed by a second person",
        items=[
            GateItem(
                text=_plate_text(one),
                detail=_entered(one),
                action="Confirm",
                **_plate_place(one),
            )
            for one in versions
        ],
    )


def _plate_place(version: NameplateVersion) -> dict[str, Any]:
    """Return where it is confirmed: with its lineup, or alone on the spare shelf."""
    thing = version.apparatus
    if thing is not None and thing.cell is None:
        return {"target_kind": "apparatus", "target_id": thing.id}
    lineup = thing.cell.lineup_id if thing and thing.cell else version.lineup_id
    return {"target_kind": "nameplates", "target_id": lineup}


def _plate_text(version: NameplateVersion) -> str:
    if version.apparatus is not None:
        return f"Nameplate of {version.apparatus.label}, {version.apparatus.where}"
    return f"Nameplate of the lineup {version.lineup.name}" if version.lineup else ""


def _entered(version: NameplateVersion) -> str:
    if version.by is None:
        return "Entered before it was kept who enters a nameplate"
    return f"Entered by {version.by.name}; another person compares it with the metal"
