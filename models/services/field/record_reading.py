"""Record a reading: check it whole, store it as typed, judge its group."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError
from models.fields import field, name_now, narrowed, read_value
from models.judging import Interval, check_reading
from models.judging.quantities import said_unit
from models.judging.series import Series, parse_series, series_text
from models.procedures import PROCEDURES
from models.record.instrument import accuracy_of, supply_of
from models.schema import (
    Calibration,
    Instrument,
    Judgement,
    Person,
    Point,
    Reading,
)
from models.services.field.card_facts import CardFacts
from models.services.field.entry import Entry
from models.services.field.instrument_limits import limit_condition
from models.services.field.judge_card import judge_group, numbers_of
from models.services.keeping.log import next_seq
from models.services.keeping.texts import text_faults, value_faults
from models.services.setup.instrument_ranges import ranges_of


def add_reading(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    """Add the reading and judge it together with its group.

    Whether its card is open is asked before (`require_open_card`).
    """
    reading = new_reading(session, person, facts, entry)
    return keep_reading(session, facts, reading, new_id)


def new_reading(
    session: Session, person: Person, facts: CardFacts, entry: Entry
) -> Reading:
    """Return the reading, not added yet; raise what is wrong with it."""
    faults: list[Fault] = []
    point = _point(facts, entry, faults)
    text, unit, value = _value(facts, entry, faults)
    conditions = _conditions(facts, entry, point, faults)
    instrument = _instrument(session, person, facts, entry, faults)
    supersedes, reason = _superseding(facts, entry, point, faults)
    if faults or point is None:
        raise InputError(*faults)
    calibration, accuracy = None, {}
    if instrument is not None:
        conditions |= limit_condition(instrument, conditions, value, unit)
        calibration = calibration_on(instrument, _site_day(facts, entry.at))
        accuracy = accuracy_of(ranges_of(instrument), unit, supply_of(conditions))
    interval = value if isinstance(value, Interval) else None
    return Reading(
        id=entry.key,
        card_id=facts.card.id,
        card=facts.card,
        point_id=point.id,
        point=point,
        text=text,
        unit=unit,
        low=interval.low if interval else None,
        high=interval.high if interval else None,
        outcome=None if interval else str(value),
        conditions=conditions,
        instrument_id=instrument.id if instrument else None,
        instrument=instrument,
        calibration_id=calibration.id if calibration else None,
        calibration=calibration,
        accuracy=accuracy,
        rule_digest=point.rule_digest,
        stored_rule=point.stored_rule,
        by_id=person.id,
        by=person,
        device=entry.device,
        taken_at=entry.at,
        arrived_at=entry.arrived_at,
        supersedes_id=supersedes.id if supersedes else None,
        reason=reason,
    )


def keep_reading(
    session: Session, facts: CardFacts, reading: Reading, new_id: Callable[[], UUID]
) -> dict[str, Any]:
    """Add a reading that was found good, and judge its group; return what the log says.

    It goes to the database with what comes next.
    """
    group = [
        one
        for one in facts.current
        if one.point.group == reading.point.group and one.id != reading.supersedes_id
    ]
    session.add(reading)
    added = judge_group(
        readings=[*group, reading],
        log_seq=next_seq(session),
        now=reading.arrived_at,
        new_id=new_id,
    )
    facts.readings.append(reading)
    return _logged(reading, added)


def _logged(reading: Reading, added: list[Judgement]) -> dict[str, Any]:
    """Return what the log says: the reading, and every verdict that it moved."""
    return {
        "point": reading.point.label,
        "text": reading.text,
        "unit": reading.unit,
        "conditions": reading.conditions,
        "instrument": reading.read_with,
        "calibration": reading.calibration_id and str(reading.calibration_id),
        "accuracy": reading.accuracy,
        "taken_at": reading.taken_at,
        "supersedes": str(reading.supersedes_id) if reading.supersedes_id else None,
        "reason": reading.reason,
        "rule": reading.rule_digest,
        "judgement": numbers_of(reading.judgements[-1]),
        "moved": [
            {
                "reading": str(one.reading_id),
                "judgement": numbers_of(one),
                "rule": one.rule_digest,
            }
            for one in added
            if one.reading_id != reading.id
        ],
    }


def _point(facts: CardFacts, entry: Entry, faults: list[Fault]) -> Point | None:
    for point in facts.card.points:
        if str(point.id) == str(entry.raw.get("point_id")):
            return point
    faults.append(Fault(field="point_id", message="No such point on this card."))
    return None


def _value(
    facts: CardFacts, entry: Entry, faults: list[Fault]
) -> tuple[str, str | None, object]:
    typed, given = entry.raw.get("text"), entry.raw.get("unit")
    text = "" if typed is None else str(typed)
    unit = str(given) if given else None
    if too_long := value_faults("text", text):
        faults.extend(too_long)
        return text, unit, None
    procedure = PROCEDURES[facts.card.procedure]
    try:
        value, name = check_reading(procedure, text, unit)
    except InputError as error:
        for fault in error.faults:
            place = "text" if fault.field == "value" else fault.field
            faults.append(Fault(field=place, message=fault.message))
        return text, unit, None
    return text, name, value


def _conditions(
    facts: CardFacts, entry: Entry, point: Point | None, faults: list[Fault]
) -> dict[str, Any]:
    given = entry.raw.get("conditions") or {}
    if not isinstance(given, dict):
        faults.append(Fault(field="conditions", message="Give the conditions by name."))
        return {}
    asks = {ask["name"]: ask for ask in PROCEDURES[facts.card.procedure].asks}
    rows = {series.name: series for series in PROCEDURES[facts.card.procedure].series}
    allowed = set(asks) | set(rows) | (set(point.given) if point else set())
    conditions: dict[str, Any] = {}
    for sent, value in given.items():
        name = name_now(str(sent), allowed)
        if value in (None, ""):
            continue
        if name not in allowed:
            faults.append(
                Fault(field=name, message=f"This card does not ask for '{name}'.")
            )
        elif name in rows:
            conditions[name] = _row(rows[name], value, given, faults)
        else:
            choices = asks.get(name, {}).get("choices", ())
            conditions[name] = _condition(name, choices, value, faults)
    if point:
        faults.extend(_contradictions(point, conditions))
        conditions = {**point.given, **conditions}
    return conditions


def _contradictions(point: Point, conditions: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield each word that is another than the point's own; a figure may differ."""
    for name, fixed in point.given.items():
        if isinstance(fixed, str) and conditions.get(name, fixed) != fixed:
            about = field(name)
            message = f"{about.label}: this point is for '{about.choice_words(fixed)}'."
            yield Fault(field=name, message=message)


def _condition(
    name: str, choices: Sequence[str], value: object, faults: list[Fault]
) -> Any:
    """Return a condition as its field holds it."""
    text = {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
    try:
        return read_value(narrowed(name, tuple(choices)), text)
    except InputError as error:
        faults.extend(error.faults)
        return None


def _row(
    series: Series, value: object, given: Mapping[str, Any], faults: list[Fault]
) -> str | None:
    """Return a row of readings as text, its values as typed."""
    if series.only and all(given.get(name) != word for name, word in series.only):
        said = " or ".join(" ".join(one) for one in series.only if one[0] in given)
        message = f"This goes with {said or ' '.join(series.only[0])} only."
        faults.append(Fault(field=series.name, message=message))
        return None
    try:
        return series_text(parse_series(series.name, str(value)))
    except InputError as error:
        faults.extend(error.faults)
        return None


def _instrument(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    faults: list[Fault],
) -> Instrument | None:
    if PROCEDURES[facts.card.procedure].by_eye:
        return None  # what a tablet of before named took no part
    wanted = entry.optional_uuid("instrument_id")
    row = session.get(Instrument, wanted) if wanted else None
    if row is None or row.organisation_id != person.organisation_id:
        faults.append(
            Fault(
                field="instrument_id",
                message="Choose the instrument from the register.",
            )
        )
        return None
    if facts.card.procedure not in row.procedures:
        faults.append(
            Fault(
                field="instrument_id",
                message=f"{row.tag} ({row.name}) is not registered for this procedure.",
            )
        )
        return None
    return row


def _said(reading: Reading) -> str:
    """Return what was read, in words: 8.1 GΩ, broke down."""
    if reading.unit is None:
        return reading.text.replace("_", " ")
    return f"{reading.text} {said_unit(reading.unit)}"


def _superseding(
    facts: CardFacts, entry: Entry, point: Point | None, faults: list[Fault]
) -> tuple[Reading | None, str | None]:
    wanted = entry.optional_uuid("supersedes")
    standing = [r for r in facts.current if point and r.point_id == point.id]
    if wanted is None:
        if standing:
            raise ConflictError(
                f"{standing[0].point.label} has a reading already "
                f"({_said(standing[0])}): measure again, with "
                "a reason, so that both stay visible."
            )
        return None, None
    superseded = next((r for r in standing if r.id == wanted), None)
    if superseded is None:
        faults.append(
            Fault(
                field="supersedes",
                message="The reading to be superseded is not the one that holds.",
            )
        )
        return None, None
    reason = entry.raw.get("reason")
    faults.extend(text_faults("reason", reason, "why the point was measured again"))
    return superseded, str(reason).strip()


def _site_day(facts: CardFacts, at: datetime) -> datetime:
    return at.astimezone(ZoneInfo(facts.card.round.lineup.site.zone))


def calibration_on(instrument: Instrument, at: datetime) -> Calibration | None:
    """Return the calibration in force on the day of *at*, or None."""
    day = at.date()
    for calibration in reversed(instrument.calibrations):
        if calibration.calibrated_on <= day <= calibration.due_on:
            return calibration
    return None
