"""Read the file of programmes, and refuse one that is not in order."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.errors import CriteriaError
from models.fields import find_field
from models.procedures import PROCEDURES
from models.procedures.procedure import Procedure

REQUIRED, OPTIONAL, IF_FITTED = MARKS = ("required", "optional", "if_fitted")
KINDS = ("acceptance", "maintenance")
PROGRAMME = ("name", "kind", "gears", "source", "required")
PROGRAMME_MAY = ("was", "if_fitted")
CARD = ("key", "apparatus", "procedure", "detail", "unit")
CARD_MAY = ("points", "defaults", "fitted", "earlier", "gears", "was")
EARLIER = ("detail", "points")
WAS = ("procedure", "unit")  # of readings that stand under another test
POINT_MAY = ("group", "given", "fitted")  # of a point that is a table, beside `label`

Data = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Programmes:
    """Programmes, and every card by its key, in the order of work.

    *choices*: each card that a programme may have, and its mark there, by its name.
    """

    programmes: tuple[Data, ...]
    cards: Mapping[str, Data]
    choices: Mapping[str, tuple[tuple[str, str], ...]]


def read_programmes(text: str) -> Programmes:
    """Return what the file says.

    Raises CriteriaError with every fault: the programme or card, the key, what is wrong
    with it, and what is allowed.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CriteriaError(f"programmes.toml: {error}") from error
    found = [f"programmes.toml: {fault}" for fault in _faults(data)]
    if found:
        raise CriteriaError("; ".join(found))
    cards = {card["key"]: card for card in data["card"]}
    ordered = {key: cards[key] for key in data["order"]}
    choices = {one["name"]: tuple(_choose(one, ordered)) for one in data["programme"]}
    return Programmes(tuple(data["programme"]), ordered, choices)


def _choose(programme: Data, cards: Mapping[str, Data]) -> Iterator[tuple[str, str]]:
    """Yield each card that the programme may have, and its mark there.

    What it does not name is optional, where its procedure is done on such gear. A
    card that is for some `gears` only is for programmes of these alone.
    """
    for key, card in cards.items():
        procedure = PROCEDURES[card["procedure"]]
        gears = set(programme["gears"])
        if key in programme["required"]:
            yield key, REQUIRED
        elif key in programme.get("if_fitted", ()):
            yield key, IF_FITTED
        elif gears & set(procedure.gears) and gears <= set(card.get("gears", gears)):
            yield key, OPTIONAL


def _faults(data: Data) -> Iterator[str]:
    yield from _keys("the file", data, ("order", "programme", "card"), ())
    cards: dict[str, Data] = {}
    for card in data.get("card", ()):
        place = f"card {card.get('key')}"
        if card.get("key") in cards:
            yield f"{place}: stands twice"
        cards[card.get("key", "")] = card
        wrong = list(_keys(place, card, CARD, CARD_MAY))
        yield from wrong or _card_faults(place, card)
    order = data.get("order", ())
    yield from _each("order", order, cards)
    yield from (f"order: '{key}' is missing" for key in cards if key not in order)
    for one in data.get("programme", ()):
        place = f"programme {one.get('name')}"
        wrong = list(_keys(place, one, PROGRAMME, PROGRAMME_MAY))
        yield from wrong or _programme_faults(place, one, cards)


def _keys(
    place: str, data: Data, must: Iterable[str], may: Iterable[str]
) -> Iterator[str]:
    for key in must:
        if key not in data:
            yield f"{place}: '{key}' is missing"
    known = (*must, *may)
    for key in data:
        if key not in known:
            yield f"{place}: '{key}' is not known: write {', '.join(known)}"


def _card_faults(place: str, card: Data) -> Iterator[str]:
    procedure = PROCEDURES.get(card["procedure"])
    if procedure is None:
        known = ", ".join(PROCEDURES)
        yield f"{place}: '{card['procedure']}' is none of {known}"
        return
    yield from _each(f"{place}, apparatus", card["apparatus"], procedure.apparatus)
    none = ("",) if procedure.outcomes or not procedure.units else ()
    yield from _each(f"{place}, unit", [card["unit"]], (*procedure.units, *none))
    asked = [ask["name"] for ask in procedure.asks]
    yield from _each(f"{place}, defaults", card.get("defaults", {}), asked)
    for name in card.get("fitted", ()):
        if find_field(name) is None:
            yield f"{place}, fitted: there is no field '{name}'"
    if procedure.points.pattern == "listed" and not card.get("points"):
        yield f"{place}: 'points' is missing: '{procedure.name}' has the card list them"
    points = card.get("points", ())
    yield from _points(f"{place}, points", points, procedure)
    if earlier := card.get("earlier"):
        yield from _keys(f"{place}, earlier", earlier, EARLIER, ())
        today = earlier.get("points", {}).values()
        yield from _each(f"{place}, earlier", today, points)
    if was := card.get("was"):
        yield from _was_faults(f"{place}, was", was)


def _was_faults(place: str, was: Data) -> Iterator[str]:
    yield from _keys(place, was, WAS, ())
    before = PROCEDURES.get(was.get("procedure", ""))
    if before is None:
        yield f"{place}: '{was.get('procedure')}' is none of {', '.join(PROCEDURES)}"
    else:
        yield from _each(place, [was.get("unit")], before.units)


def _points(
    place: str, points: Sequence[str | Data], procedure: Procedure
) -> Iterator[str]:
    """Yield each point twice there, and each that fixes what the procedure does not."""
    choices = {ask["name"]: ask["choices"] for ask in procedure.asks}
    labels = [p if isinstance(p, str) else p.get("label", "") for p in points]
    yield from _each(place, labels, None)
    for point in (point for point in points if not isinstance(point, str)):
        yield from _keys(place, point, ("label",), POINT_MAY)
        given = point.get("given", {})
        yield from _keys(f"{place}, given", given, procedure.points.by, choices)
        for name, value in given.items():
            if choices.get(name):
                yield from _each(f"{place}, given", [value], choices[name])
        for name in point.get("fitted", ()):
            if find_field(name) is None:
                yield f"{place}, fitted: there is no field '{name}'"


def _programme_faults(
    place: str, one: Data, cards: Mapping[str, Data]
) -> Iterator[str]:
    yield from _each(f"{place}, kind", [one["kind"]], KINDS)
    fitted = one.get("if_fitted", ())
    yield from _each(f"{place}, required", [*one["required"], *fitted], cards)
    for key in fitted:
        if key in cards and not cards[key].get("fitted"):
            yield f"{place}, {key}: the card does not say what is 'fitted'"
    for key in (*one["required"], *fitted):
        procedure = PROCEDURES.get(cards.get(key, {}).get("procedure", ""))
        if procedure is not None and not set(one["gears"]) & set(procedure.gears):
            known = ", ".join(procedure.gears)
            yield f"{place}, {key}: it is done on {known} only"


def _each(
    place: str, words: Iterable[str | None], known: Iterable[str] | None
) -> Iterator[str]:
    """Yield each word that is not known here, and each that stands twice."""
    seen, allowed = list(words), None if known is None else list(known)
    for word in dict.fromkeys(seen):
        if allowed is not None and word not in allowed:
            yield f"{place}: '{word}' is none of {', '.join(allowed)}"
        if seen.count(word) > 1:
            yield f"{place}: '{word}' stands twice"
