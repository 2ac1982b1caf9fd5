"""Who has to sign a card as performed, and what each of them says by it."""

from dataclasses import dataclass
from uuid import UUID

from models.record.card import holding_signatures
from models.record.preconditions import confirmers, is_covered, not_confirmed_by
from models.record.values import Card, Reading, Scopes


@dataclass(frozen=True, slots=True, kw_only=True)
class Performer:
    """Somebody who took a reading that holds."""

    id: UUID
    name: str
    signed: bool


def performers(card: Card) -> list[Performer]:
    """Return who took the readings that hold, in the order of their first."""
    names = {r.by_id: r.by for r in card.holding}
    signed = {s.by_id for s in holding_signatures(card)}
    return [
        Performer(id=key, name=name, signed=key in signed)
        for key, name in names.items()
    ]


def signed_for(card: Card, person_id: UUID) -> list[Reading]:
    """Return what a person signs for: their readings, and those that these replaced.

    Everything on a card is signed for so: each reading holds, or was replaced by
    one that does.
    """
    by_id = {r.id: r for r in card.readings}
    found = set()
    for reading in card.holding:
        if reading.by_id != person_id:
            continue
        one: Reading | None = reading
        while one is not None:
            found.add(one.id)
            one = by_id.get(one.supersedes) if one.supersedes else None
    return [r for r in card.readings if r.id in found]


def performed_statement(card: Card, person_id: UUID) -> str:
    """Return what a person says by signing the card as performed."""
    own = [r for r in card.holding if r.by_id == person_id]
    others = [p.name for p in performers(card) if p.id != person_id]
    said = [
        "I took the readings that carry my name, as recorded here, with the "
        "instruments and under the conditions stated.",
        _preconditions(card, own),
    ]
    if others:
        verb = "signs" if len(others) == 1 else "sign"
        said.append(f"{_and(others)} took the other readings and {verb} for them.")
    return " ".join(said)


def _preconditions(card: Card, own: list[Reading]) -> str:
    if card.scopes is not None:
        return _scopes(card, card.scopes, own)
    if any(not_confirmed_by(card, reading) for reading in own):
        return (
            "Not every precondition was confirmed before each of them: the times say "
            "which."
        )
    names = _and(confirmers(card, own))
    return f"The preconditions were confirmed before each of them, by {names}."


def _scopes(card: Card, scopes: Scopes, own: list[Reading]) -> str:
    by_then = "by all acts of safety that had arrived when this was signed"
    if not all(is_covered(card, reading) for reading in own):
        return (
            "Not each of them was taken while the safety scopes that its card rests on "
            f"stood, {by_then}: the times say which."
        )
    said = (
        "Each of them was taken while the safety scopes that its card rests on stood, "
        f"{by_then}"
    )
    names = _and(scopes.confirmers([reading.id for reading in own]))
    return (
        f"{said}; the lines of the test were confirmed by {names}."
        if names
        else (f"{said}.")
    )


def _and(names: list[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
