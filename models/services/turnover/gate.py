"""The gate: what still stands between a round and its turnover."""

from dataclasses import dataclass, field
from uuid import UUID

from sqlalchemy.orm import Session

from models.judging.rules import rests_on_memory
from models.schema import Instrument, Person, Reading, Round
from models.services.field.card_values import said_reading, where
from models.services.field.card_view import CardFacts, gather, round_cards
from models.services.field.sign_cards import (
    unanswered_codes,
    unread_points,
    what_is_missing,
)
from models.services.people.access import person_of, round_of
from models.services.turnover.list_rounds import verdict_counts
from models.services.turnover.seals_wanted import Seals, seals_wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class GateItem:
    """One thing, with where it is settled."""

    text: str
    detail: str
    action: str
    target_kind: str  # card, reading, deficiency, package, instrument
    target_id: UUID
    recalled: bool = False  # its verdict rests on a figure from memory


@dataclass(frozen=True, slots=True, kw_only=True)
class GateLine:
    """Things of one kind. `mark` is a verdict, 'open' or 'done'."""

    code: str
    mark: str
    text: str
    detail: str = ""
    items: list[GateItem] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """The gate of a round, for one person.

    `ready` means that nothing is left but signatures; `may_sign` that this
    person is to sign the package as performed; `may_approve` that this person
    may approve now, else `why_not` says why.
    """

    round_id: UUID
    title: str
    state: str
    still: list[GateLine]
    settled: list[GateLine]
    counts: dict[str, int]
    things: int
    ready: bool
    may_sign: bool
    may_approve: bool
    why_not: str
    seals: Seals


def gate(session: Session, *, person_id: UUID, round_id: UUID) -> Gate:
    """Return the gate of the round as this person sees it."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    lines = [
        *(_undisposed(facts, verdict) for verdict in ("outside", "marginal")),
        _undisposed(facts, "unjudged"),
        _rejected(facts),
        _without_readings(facts),
        _unsigned(facts),
        _deficiencies(facts),
        _out_of_calibration(facts),
    ]
    still = [line for line in lines if line.items]
    wanted = seals_wanted(session, round_, facts)
    ready = not still
    if ready and wanted.missing:
        still.append(_missing_seals(round_, wanted))
    why_not = _why_not(person, round_, facts, wanted, ready=ready)
    return Gate(
        round_id=round_.id,
        title=round_.title,
        state=round_.state,
        still=still,
        settled=_settled(facts),
        counts=_counts(facts),
        things=sum(len(line.items) for line in still),
        ready=ready,
        may_sign=ready
        and round_.state == "open"
        and person.id in {p.id for p in wanted.missing},
        may_approve=not why_not,
        why_not=why_not,
        seals=wanted,
    )


def performers(facts: list[CardFacts]) -> dict[UUID, Person]:
    """Return everybody who took a reading or signed a card."""
    people = {r.by_id: r.by for one in facts for r in one.readings}
    return people | {s.by_id: s.by for one in facts for s in one.signatures}


def _why_not(
    person: Person, round_: Round, facts: list[CardFacts], wanted: Seals, *, ready: bool
) -> str:
    if round_.state != "open":
        return f"This round is {round_.state} already."
    if person.role != "lead":
        return "Approval is the commissioning lead's."
    if person.id in performers(facts):
        return (
            "You took readings or signed cards of this round: "
            "somebody else has to approve it."
        )
    if not ready:
        return "Settle what stands in the way first."
    if wanted.missing:
        names = " and ".join(p.name for p in wanted.missing)
        return (
            f"{names} performed the tests and has not signed the package yet; "
            "if that signature is not to be had, say why."
        )
    return ""


def _reading_item(
    facts: CardFacts, reading: Reading, action: str, *, reason: str | None = None
) -> GateItem:
    body = facts.say(reading.judgement)
    return GateItem(
        text=f"{where(facts)} · {reading.point.label}: {said_reading(reading)}",
        detail=reason or body["reason"],
        action=action,
        target_kind="reading",
        target_id=reading.id,
        recalled=rests_on_memory(body["cite"]),
    )


def _undisposed(facts: list[CardFacts], verdict: str) -> GateLine:
    items = [
        _reading_item(one, reading, "Dispose")
        for one in facts
        for reading in one.current
        if reading.judgement.verdict == verdict
        and one.disposition_of(reading) is None
        and reading not in _uncalibrated(one)
    ]
    return GateLine(
        code=f"undisposed_{verdict}",
        mark=verdict,
        text=f"{_count(items, 'reading')} {verdict} without a disposition",
        items=items,
    )


def _rejected(facts: list[CardFacts]) -> GateLine:
    items = [
        _reading_item(one, reading, "Have it repeated")
        for one in facts
        for reading in one.current
        if (found := one.disposition_of(reading)) and found.decision == "reject"
    ]
    return GateLine(
        code="rejected",
        mark="open",
        text=f"{_count(items, 'rejected reading')} to be put right and repeated",
        items=items,
    )


def _card_item(facts: CardFacts, detail: str, action: str) -> GateItem:
    return GateItem(
        text=where(facts),
        detail=detail,
        action=action,
        target_kind="card",
        target_id=facts.card.id,
    )


def _without_readings(facts: list[CardFacts]) -> GateLine:
    items = []
    for one in facts:
        if one.state in ("signed", "withdrawn"):
            continue
        if what_is_missing(one):
            items.append(_card_item(one, _what_lacks(one), "Show card"))
    return GateLine(
        code="incomplete",
        mark="open",
        text=f"{_count(items, 'card')} not complete",
        items=items,
    )


def _what_lacks(facts: CardFacts) -> str:
    if facts.state == "not_begun":
        return "Not begun"
    unread, unanswered = unread_points(facts), unanswered_codes(facts)
    parts = []
    if unread:
        parts.append(f"no reading yet at {', '.join(unread)}")
    if unanswered:
        parts.append(f"{_count(unanswered, 'precondition')} still to answer")
    said = "; ".join(parts)
    return said[:1].upper() + said[1:]


def _unsigned(facts: list[CardFacts]) -> GateLine:
    items = []
    for one in facts:
        if one.state in ("signed", "withdrawn") or what_is_missing(one):
            continue
        returned = one.state == "returned"
        detail = "Returned to the technician" if returned else "Complete, not signed"
        items.append(_card_item(one, detail, "Show card"))
    return GateLine(
        code="unsigned",
        mark="open",
        text=f"{_count(items, 'card')} not signed as performed",
        items=items,
    )


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
        text=f"{_count(items, 'open deficiency', 'open deficiencies')} "
        f"that {verb} turnover",
        items=items,
    )


def _out_of_calibration(facts: list[CardFacts]) -> GateLine:
    items = [
        _reading_item(one, reading, "Have it repeated")
        for one in facts
        for reading in _uncalibrated(one)
    ]
    return GateLine(
        code="calibration",
        mark="open",
        text=f"{_count(items, 'reading')} with an instrument out of calibration "
        "on the day",
        items=items,
    )


def _uncalibrated(facts: CardFacts) -> list[Reading]:
    """Return readings to be repeated with an instrument in calibration.

    They stand unjudged; one line of the gate says why, not two.
    """
    return [
        reading
        for reading in facts.current
        if reading.calibration_id is None
        and facts.disposition_of(reading) is None
        and reading.judgement.verdict in ("within", "unjudged")
    ]


def _missing_seals(round_: Round, wanted: Seals) -> GateLine:
    return GateLine(
        code="seals",
        mark="open",
        text="The package is not signed by everybody who performed the tests",
        items=[
            GateItem(
                text=f"{person.name} has not signed the package as performed",
                detail="They sign it with their own password.",
                action="Open package",
                target_kind="package",
                target_id=round_.id,
            )
            for person in wanted.missing
        ],
    )


def _settled(facts: list[CardFacts]) -> list[GateLine]:
    lines = []
    confirmations = [c for one in facts for c in one.confirmations]
    if confirmations:
        people = {c.by_id for c in confirmations}
        lines.append(
            GateLine(
                code="preconditions",
                mark="done",
                text="Preconditions confirmed before every reading",
                detail=f"{len(confirmations)} confirmations by "
                f"{_count(people, 'person', 'persons')}",
            )
        )
    readings = [r for one in facts for r in one.current]
    instruments: dict[UUID, Instrument] = {
        r.instrument_id: r.instrument for r in readings
    }
    if readings and all(r.calibration_id for r in readings):
        lines.append(
            GateLine(
                code="calibration",
                mark="done",
                text="All instruments in calibration on the day of use",
                detail=f"{_count(instruments, 'instrument')}: "
                + ", ".join(sorted(i.tag for i in instruments.values())),
            )
        )
    lines.extend(_settled_findings(facts))
    return lines


def _settled_findings(facts: list[CardFacts]) -> list[GateLine]:
    lines = [_disposed(facts), _closed(facts), _superseded(facts)]
    return [line for line in lines if line.items]


def _disposed(facts: list[CardFacts]) -> GateLine:
    items = [
        _reading_item(one, r, "Read")
        for one in facts
        for r in one.current
        if (d := one.disposition_of(r)) and d.decision != "reject"
    ]
    text = f"{_count(items, 'reading')} not within, disposed of"
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
    text = f"{_count(items, 'deficiency', 'deficiencies')} closed"
    return GateLine(code="closed", mark="done", text=text, items=items)


def _superseded(facts: list[CardFacts]) -> GateLine:
    items = [
        _reading_item(one, r, "Read", reason=newer.reason)
        for one in facts
        for r in one.readings
        if (newer := one.successor_of(r)) is not None
    ]
    text = f"{_count(items, 'superseded reading')}, kept with the reason"
    return GateLine(code="superseded", mark="done", text=text, items=items)


def _counts(facts: list[CardFacts]) -> dict[str, int]:
    counts = verdict_counts(facts)
    standing = [one for one in facts if one.state != "withdrawn"]
    deficiencies = [d for one in facts for d in one.deficiencies]
    return {
        "readings": sum(counts.values()),
        **counts,
        "cards": len(standing),
        "cards_signed": sum(one.state == "signed" for one in standing),
        "cards_withdrawn": len(facts) - len(standing),
        "deficiencies": len(deficiencies),
        "deficiencies_open": sum(d.closing is None for d in deficiencies),
        "superseded": sum(len(one.superseded) for one in facts),
    }


def _count(things: object, one: str, many: str | None = None) -> str:
    number = len(things)  # type: ignore[arg-type]
    return f"{number} {one if number == 1 else many or one + 's'}"
