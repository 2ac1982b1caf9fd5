"""What the cards say of safety: one line a card, and one sentence for all."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime

from models.record.safety_report.told import (
    Json,
    ReportCard,
    Told,
    person_key,
    who,
)
from models.record.shapes.safety_report import CardSafety, CardsRow


def card_safety(told: Told, card: ReportCard, crews: Sequence[Json]) -> CardSafety:
    """Return what a card rested on while it was worked, and how many lines it has.

    *crews* are the crews that stand or stood, as the core gives them.
    """
    rests_on = told.book["cards"].get(card.id, {}).get("rests_on", ())
    before, after = card_lines(told, card, "test"), card_lines(told, card, "after")
    moments = [*_moments(before), *_moments(after), *_of_readings(card)]
    entered = [_entered(told, card.cell, at) for at, _ in moments]
    isolations = [e["isolation"] for e in entered if e and e.get("isolation")]
    cell = told.cells[card.cell]["number"] if any(entered) else ""
    return {
        "shifts": sorted(
            {n for at, key in moments for n in _shift(told, crews, at, key)}
        ),
        "clearances": [
            told.isolations[one]["clearance"]
            for one in dict.fromkeys(isolations)
            if "isolation" in rests_on and one in told.isolations
        ],
        "cell": cell if "point" in rests_on else "",
        "before": len(before),
        "after": len(after),
    }


def card_lines(told: Told, card: ReportCard, scope: str) -> list[Json]:
    """Return the lines given on a card before its readings, or after them."""
    return [
        act
        for act in told.of_kind("line")
        if act["of"] == card.id and act["scope"] == scope
    ]


Moment = tuple[str, str]  # RFC 3339, a person's key


def _moments(acts: Sequence[Json]) -> Iterator[Moment]:
    return ((act["at"], person_key(who(act))) for act in acts)


def _of_readings(card: ReportCard) -> Iterator[Moment]:
    return ((one["at"], one["by"]) for one in card.readings)


def _entered(told: Told, cell: str, at: str) -> Json | None:
    """Return the last entry of a cell up to a moment."""
    moment = datetime.fromisoformat(at)
    found = None
    for act in told.of_kind("enter"):
        if act["cell"] == cell and datetime.fromisoformat(act["at"]) <= moment:
            found = act
    return found


def _shift(told: Told, crews: Sequence[Json], at: str, key: str) -> Iterator[int]:
    """Yield the number of the shift that a person was of at a moment."""
    moment = datetime.fromisoformat(at)
    for crew in crews:
        number = told.crews.get(crew["of"])
        if number is None or key not in {person["key"] for person in crew["people"]}:
            continue
        opened = next(a for a in told.of_kind("open_crew") if a["crew"] == crew["of"])
        ended = crew["at"] if crew["state"] == "ended" else None
        if datetime.fromisoformat(opened["at"]) <= moment and (
            ended is None or moment <= datetime.fromisoformat(ended)
        ):
            yield number


def cards_row(
    told: Told,
    outside: Mapping[str, Sequence[Json]],
    after_stands: Callable[[ReportCard], bool],
) -> CardsRow:
    """Return the sentence of all cards that went by scopes.

    *outside* are the readings by card that were taken outside a standing scope;
    *after_stands* tells whether all is stated that follows a card's last reading.
    """
    worked = [card for card in told.cards if card.by_scopes]
    before = [act for card in worked for act in card_lines(told, card, "test")]
    after = [act for card in worked for act in card_lines(told, card, "after")]
    people = {person_key(who(act)) for act in (*before, *after)}
    outside_count = sum(len(found) for found in outside.values())
    after_open = [
        card.sheet
        for card in worked
        if not (card.confirmed_after or after_stands(card))
    ]
    return {
        "cards": len(worked),
        "before": len(before),
        "after": len(after),
        "people": len(people),
        "readings": sum(len(card.by_scopes) for card in worked),
        "outside": outside_count,
        "after_open": after_open,
        "in_time": bool(worked) and not outside_count and not after_open,
    }
