"""Read the programmes: which cards a round holds, from the lineup's apparatus."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from models.errors import NotFoundError
from models.schema import Apparatus

NO_TRIP_MULTIPLE = 0.95  # below pickup: the relay must not operate (common practice)
MULTIPLES = (2.0, 3.0, 5.0, 10.0)  # common practice, where the relay names none


@dataclass(frozen=True, slots=True, kw_only=True)
class Programme:
    """A named set of cards for a kind of round."""

    name: str
    kind: str
    gears: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPoint:
    """A point to be, with the conditions that the programme fixes."""

    label: str
    group: str
    given: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCard:
    """A card to be."""

    procedure: str
    detail: str
    unit: str
    defaults: dict[str, Any]
    points: tuple[PlannedPoint, ...]


@cache
def _book() -> dict[str, Any]:
    text = files("models.services.setup").joinpath("programmes.toml").read_text("utf-8")
    return tomllib.loads(text)


def programmes() -> list[Programme]:
    """Return every programme."""
    return [
        Programme(name=p["name"], kind=p["kind"], gears=tuple(p["gears"]))
        for p in _book()["programme"]
    ]


def programme_named(name: str) -> Programme:
    """Return the programme; NotFoundError when there is none of that name."""
    for programme in programmes():
        if programme.name == name:
            return programme
    raise NotFoundError("programme", name)


def planned_cards(apparatus: Apparatus) -> Iterator[PlannedCard]:
    """Yield the cards that *apparatus* gets, in the order of work."""
    for line in _book()["card"]:
        if apparatus.kind not in line["apparatus"]:
            continue
        if line.get("multiples"):
            points = _timing_points(apparatus.nameplate)
        else:
            points = tuple(
                PlannedPoint(label=label, group=_group(label))
                for label in line["points"]
            )
        yield PlannedCard(
            procedure=line["procedure"],
            detail=line["detail"],
            unit=line["unit"],
            defaults=dict(line.get("defaults", {})),
            points=points,
        )


def _group(label: str) -> str:
    """Poles and phases are compared with each other, open gaps among themselves."""
    return "open" if label.endswith("open") else "closed"


def _timing_points(nameplate: dict[str, Any]) -> tuple[PlannedPoint, ...]:
    """Return a point a multiple; without a pickup the current is asked on the card."""
    pickup_a = nameplate.get("pickup_a")
    multiples = (NO_TRIP_MULTIPLE, *nameplate.get("multiples", MULTIPLES))
    return tuple(
        PlannedPoint(
            label=f"{multiple:g} × pickup",
            group=f"{multiple:g}",
            given={"applied_a": round(pickup_a * multiple, 6)} if pickup_a else {},
        )
        for multiple in multiples
    )
