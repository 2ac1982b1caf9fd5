"""A blank sheet to write on, card by card, for the day the tablet is dead."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models import criteria
from models.criteria.rule_words import (
    correction_words,
    gate_words,
    limit_words,
    unjudged_words,
)
from models.fields import field as field_named
from models.judging.parts import Part
from models.judging.quantities import said_unit
from models.judging.rules import Rule, cite_words
from models.judging.series import SERIES
from models.judging.wording import plain
from models.procedures import PROCEDURES
from models.procedures.procedure import asked_of
from models.record.safety_report.told import Told
from models.record.safety_sheet.lines import blank_lines
from models.schema import Apparatus, Card, Point, Round
from models.services.field.card_facts import precondition_codes, round_cards
from models.services.field.card_values import where_of
from models.services.keeping.log import stamp
from models.services.people.access import card_of, person_of, require, round_of
from models.services.safety.book import book_of_round

# What a switch room may be like: rows of a correction beyond are left out.
COLDEST_C, WARMEST_C = -10.0, 50.0
KNOWN = " known"  # what a gate ends with that asks for no figure


def round_sheets(
    session: Session, *, person_id: UUID, round_id: UUID, now: datetime
) -> dict[str, Any]:
    """Return the field sheets of every card of a round, as a document to print.

    Raises NotFoundError and ForbiddenError.
    """
    person = person_of(session, person_id)
    require(person, "see record")
    round_ = round_of(session, person, round_id)
    return _document(session, round_, round_cards(session, round_id), now)


def card_sheet(
    session: Session, *, person_id: UUID, card_id: UUID, now: datetime
) -> dict[str, Any]:
    """Return the field sheet of one card, as a document to print."""
    person = person_of(session, person_id)
    require(person, "see record")
    card = card_of(session, person, card_id)
    return _document(session, card.round, [card], now)


def _document(
    session: Session, round_: Round, cards: Sequence[Card], now: datetime
) -> dict[str, Any]:
    lineup = round_.lineup
    told = None if round_.earlier_list else _told(session, round_, now)
    return {
        "made_at": stamp(now),
        "zone": lineup.site.zone,
        "revision": round_.revision,
        "site": {"name": lineup.site.name},
        "lineup": {"name": lineup.name, "gear": lineup.gear},
        "round": {"title": round_.title},
        "disclaimer": told.book["governs"] if told else criteria.disclaimer(),
        "cards": [{**_sheet(card), **_asked(card, told)} for card in cards],
    }


def _told(session: Session, round_: Round, now: datetime) -> Told:
    """Return the book of the round, with nothing on record: a field sheet is blank."""
    return Told(
        book=book_of_round(session, round_),
        every_act=(),
        cards=(),
        lineup=str(round_.lineup_id),
        zone=ZoneInfo(round_.lineup.site.zone),
        now=stamp(now),
    )


def _asked(card: Card, told: Told | None) -> dict[str, Any]:
    """Return what is to be confirmed: the scopes' lines, or the list before them."""
    if told is not None:
        return {"before": [], "after": [], "lists": _lists(card, told)}
    known = {item.code: item for item in criteria.load_preconditions()}
    items = [known[code] for code in precondition_codes(card.procedure)]
    return {
        "before": [(i.code, i.text) for i in items if i.part != "after"],
        "after": [(i.code, i.text) for i in items if i.part == "after"],
        "lists": [],
    }


def _lists(card: Card, told: Told) -> list[dict[str, Any]]:
    """Return the lines of a card before and after, once for each supply or method."""
    lists = told.book["cards"][str(card.id)]["lists"]
    return [
        {
            "choice": choice.replace("_", " "),
            "before": blank_lines(told, codes["before"]),
            "after": blank_lines(told, codes["after"]),
        }
        for choice, codes in lists.items()
    ]


def _sheet(card: Card) -> dict[str, Any]:
    procedure = PROCEDURES[card.procedure]
    rules = list({p.rule_digest: Rule.from_json(p.rule) for p in card.points}.values())
    given = [point.given for point in card.points]
    return {
        "number": card.position,
        "where": where_of(card),
        "identity": _identity(card.apparatus),
        "detail": card.detail,
        "method": procedure.method,
        "assigned_to": card.assigned_to.name if card.assigned_to else "",
        "conditions": [
            _condition(ask, card)
            for ask in asked_of(procedure.asks, [point.given for point in card.points])
        ],
        "units": [said_unit(unit) for unit in procedure.units],
        "outcomes": [one.replace("_", " ") for one in procedure.outcomes],
        "limits": list(dict.fromkeys(_limits(rules, given))),
        "sources": list(dict.fromkeys(_sources(rules))),
        "factors": _factors(rules[0]) if rules else [],
        "points": [_point(point) for point in card.points],
        "rows": _rows(rules),
    }


def _identity(apparatus: Apparatus) -> str:
    """Return maker, type, serial number and year, as far as they are known."""
    serial = f"serial number {apparatus.serial}" if apparatus.serial else ""
    year = str(apparatus.built_year or "")
    parts = (apparatus.maker, apparatus.type, serial, year)
    return ", ".join(part for part in parts if part)


def _condition(ask: Any, card: Card) -> tuple[str, str, str, str]:
    """Return label, unit, what the programme begins with, and what can be chosen."""
    begun, about = card.defaults.get(ask["name"]), field_named(ask["name"])
    words = [about.choice_words(one) for one in ask["choices"]]
    if ask["choices"]:
        said = about.choice_words(begun) if begun else ""
    else:
        said = plain(begun) if isinstance(begun, int | float) else str(begun or "")
    return ask["label"], ask["unit"], said, " / ".join(words)


def _rows(rules: Sequence[Rule]) -> list[dict[str, Any]]:
    """Return each row of readings that a rule needs: what to write into its cells."""
    least = {
        gate["series"]: int(gate.get("least", 0))
        for rule in rules
        for gate in rule.gates
        if "series" in gate
    }
    found = []
    for name, wanted in least.items():
        row = SERIES[name]
        found.append(
            {
                "title": row.title,
                "step": f"{row.step_label}, {row.step_unit}",
                "value": f"{row.label}, {said_unit(row.unit)}".rstrip(", "),
                "least": wanted,
            }
        )
    return found


def _limits(rules: Sequence[Rule], given: Sequence[Part]) -> list[str]:
    """Return what is wanted; nothing of a case that no point of the card is."""
    found = []
    for rule in rules:
        gates = [g for g in rule.gates if _may_hold(g, given) and _is_asked(g, given)]
        found += [
            limit_words(one, rule) for one in rule.bounds if _may_hold(one, given)
        ]
        found += [f"nothing is judged without: {one}" for one in _needed(gates)]
        found += [unjudged_words(one) for one in rule.unjudged if _may_hold(one, given)]
        if words := correction_words(rule):
            found.append(words)
    return found


def _may_hold(part: Part, given: Sequence[Part]) -> bool:
    """Return whether at some point of the card the `when` of a part can be so."""
    when = part.get("when", {})
    return not given or any(
        all(at.get(name, word) == word for name, word in when.items()) for at in given
    )


def _is_asked(gate: Part, given: Sequence[Part]) -> bool:
    """Return whether what a gate looks at is not fixed by every point itself."""
    return not given or not all(gate.get("on") in at for at in given)


def _needed(gates: Sequence[Part]) -> list[str]:
    """Return what is wanted: in one line what must only be known, then the others."""
    asked = [(gate_words(gate), "when" in gate) for gate in gates]
    known = [w.removesuffix(KNOWN) for w, at in asked if w.endswith(KNOWN) and not at]
    others = [words for words, at in asked if at or not words.endswith(KNOWN)]
    return ["; ".join(known), *others] if known else others


def _sources(rules: Sequence[Rule]) -> Iterator[str]:
    """Yield what the limits and the correction are cited from."""
    for rule in rules:
        for part in (*rule.bounds, rule.correction):
            if (at := part.get("cite")) is not None:
                yield cite_words(rule.cite[at])


def _factors(rule: Rule) -> list[tuple[str, str]]:
    """Return (temperature in degC, factor) of a correction that is a table."""
    points = rule.correction.get("points", ())
    return [
        (plain(at), plain(factor))
        for at, factor in points
        if COLDEST_C <= at <= WARMEST_C
    ]


def _point(point: Point) -> tuple[str, str]:
    """Return the point's label and what the programme fixes for it."""
    given = (
        f"{name.replace('_', ' ')} {plain(v) if isinstance(v, int | float) else v}"
        for name, v in point.given.items()
    )
    return point.label, ", ".join(given)
