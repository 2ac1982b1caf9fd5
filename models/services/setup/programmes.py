"""Which cards a round holds: a programme chooses, apparatus by apparatus."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from itertools import product
from typing import Any

from models.errors import NotFoundError
from models.fields import field
from models.procedures import PROCEDURES
from models.procedures.words import PATTERNS
from models.schema import Apparatus
from models.services.setup.planned_points import OF_SETTINGS, PlannedPoint
from models.services.setup.programmes_file import (
    IF_FITTED,
    OPTIONAL,
    REQUIRED,
    read_programmes,
)

Place = str | Mapping[str, Any]  # its name, or `label` and what is `given` there
FILE = files("models.services.setup").joinpath("programmes.toml")
# A fault in the file stops the program.
BOOK = read_programmes(FILE.read_text("utf-8"))
_EARLIER = {
    (card["procedure"], card["earlier"]["detail"]): card
    for card in BOOK.cards.values()
    if "earlier" in card
}
_WAS = {
    (card["procedure"], card["detail"]): (card["was"]["procedure"], card["was"]["unit"])
    for card in BOOK.cards.values()
    if "was" in card
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Programme:
    """A named set of cards for a kind of round; *choose*: (card, its mark).

    *was*: names that rounds know it by which were planned under an earlier one.
    """

    name: str
    kind: str
    gears: tuple[str, ...]
    source: str
    choose: tuple[tuple[str, str], ...]
    was: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCard:
    """A card to be; *mark*: how its programme marks it.

    *wanted*: it is required, or fitted where that is the mark.
    """

    mark: str = REQUIRED
    wanted: bool = True
    procedure: str
    detail: str
    unit: str
    defaults: dict[str, Any]
    points: tuple[PlannedPoint, ...]


def first_procedure() -> str:
    """Return the name of the procedure with which the first programme begins."""
    card, _ = programmes()[0].choose[0]
    return str(BOOK.cards[card]["procedure"])


def programmes() -> list[Programme]:
    """Return every programme."""
    return [
        Programme(
            name=one["name"],
            kind=one["kind"],
            gears=tuple(one["gears"]),
            source=one["source"],
            choose=BOOK.choices[one["name"]],
            was=tuple(one.get("was", ())),
        )
        for one in BOOK.programmes
    ]


def programme_named(name: str) -> Programme:
    """Return the programme; NotFoundError when there is none of that name."""
    for programme in programmes():
        if name in (programme.name, *programme.was):
            return programme
    raise NotFoundError("programme", name)


def planned_cards(
    apparatus: Apparatus, programme: Programme | None = None, *, optional: bool = True
) -> Iterator[PlannedCard]:
    """Yield the cards that *apparatus* gets, in the order of work.

    Without a *programme*: every card that some programme may give it. A card that is
    marked `if_fitted` is planned where the nameplate has what it names, an *optional*
    one where it is asked for.
    """
    for card in offered_cards(apparatus, programme):
        if card.wanted or (optional and card.mark == OPTIONAL):
            yield card


def offered_cards(
    apparatus: Apparatus, programme: Programme | None = None
) -> Iterator[PlannedCard]:
    """Yield every card of the programme that *apparatus* could get, in its order."""
    every = [(key, REQUIRED) for key in BOOK.cards]
    for key, mark in every if programme is None else programme.choose:
        card = BOOK.cards[key]
        if apparatus.kind in card["apparatus"]:
            fitted = mark == IF_FITTED and _fitted(card, apparatus)
            wanted = mark == REQUIRED or fitted
            yield _planned(card, apparatus, mark, wanted=wanted)


def is_required(programme: str, procedure: str, detail: str) -> bool:
    """Return whether a round of *programme* has to have such a card.

    A card of a programme that is no longer there is required.
    """
    marks = {
        mark
        for one in programmes()
        if programme in (one.name, *one.was)
        for key, mark in one.choose
        if (BOOK.cards[key]["procedure"], BOOK.cards[key]["detail"])
        == (procedure, detail)
    }
    return marks != {OPTIONAL}


def detail_today(procedure: str, detail: str) -> str:
    """Return how a card of *procedure* is called in the rounds of today."""
    card = _EARLIER.get((procedure, detail))
    return str(card["detail"]) if card else detail


def label_today(procedure: str, detail: str, label: str) -> str:
    """Return how a point of such a card is called in the rounds of today."""
    card = _EARLIER.get((procedure, detail))
    return str(card["earlier"]["points"].get(label, label)) if card else label


def was_of(procedure: str, detail: str) -> tuple[str, str] | None:
    """Return under which procedure such a card was read before, and in which unit."""
    return _WAS.get((procedure, detail))


def _fitted(card: Mapping[str, Any], apparatus: Apparatus) -> bool:
    return any(apparatus.nameplate.get(name) for name in card.get("fitted", ()))


def _planned(
    card: Mapping[str, Any], apparatus: Apparatus, mark: str, *, wanted: bool
) -> PlannedCard:
    return PlannedCard(
        mark=mark,
        wanted=wanted,
        procedure=card["procedure"],
        detail=card["detail"],
        unit=card["unit"],
        defaults=dict(card.get("defaults", {})),
        points=points_of(card["procedure"], apparatus, card.get("points")),
    )


def points_of(
    procedure: str, apparatus: Apparatus, places: Sequence[Place] | None = None
) -> tuple[PlannedPoint, ...]:
    """Return the points of a procedure by its pattern, or at these *places*.

    A place that says itself what it fixes is read once, under that. One that names
    fields of the nameplate under `fitted` is left out where it has none of them; if it
    has none for any place, all are kept: better a point too many than an empty card.
    """
    pattern = PROCEDURES[procedure].points
    if pattern.pattern in OF_SETTINGS:
        return tuple(OF_SETTINGS[pattern.pattern](apparatus.nameplate))
    named = places or PATTERNS[pattern.pattern]
    plain = [place for place in named if isinstance(place, str)]
    told = [place for place in named if not isinstance(place, str)]
    fits = [p for p in told if "fitted" not in p or _fitted(p, apparatus)]
    known = any("fitted" in place for place in fits)
    fixed = [_fixed_point(place) for place in (fits if known else told)]
    return (*_points(plain, pattern.by), *fixed)


def _fixed_point(place: Mapping[str, Any]) -> PlannedPoint:
    given = dict(place.get("given", {}))
    group = place.get("group") or " ".join(map(str, given.values()))
    label = place["label"]
    return PlannedPoint(label=label, group=group or group_of(label), given=given)


def _points(
    places: Sequence[str], by: Mapping[str, Sequence[str]]
) -> Iterator[PlannedPoint]:
    """Yield each place, once under each value of what the points fix besides."""
    for chosen in product(*by.values()):
        for place in places:
            words = zip(by, chosen, strict=True)
            said = [place, *(field(name).choice_words(word) for name, word in words)]
            yield PlannedPoint(
                label=", ".join(said),
                group=" ".join(chosen) or group_of(place),
                given=dict(zip(by, chosen, strict=True)),
            )


def group_of(label: str) -> str:
    """Poles and phases are compared with each other, open gaps among themselves."""
    return "open" if label.endswith("open") else "closed"
