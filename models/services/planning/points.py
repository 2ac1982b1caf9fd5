"""The points of a card under other names, in the bounds of its procedure's pattern."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.errors import Fault, InputError
from models.procedures import PROCEDURES
from models.procedures.words import PATTERNS
from models.services.keeping.texts import storable
from models.services.setup.planned_points import PlannedPoint, timing_points
from models.services.setup.programmes import group_of
from models.words import in_sentence

MOST_POINTS = 60
LONGEST_LABEL = 80  # characters
MULTIPLE = re.compile(r"^(\d{1,3}(?:\.\d{1,4})?)(?:\s*[x×]\s*pickup)?$", re.IGNORECASE)
LEAST_MULTIPLE, GREATEST_MULTIPLE = 0.1, 100.0


def read_points(
    procedure: str,
    labels: Sequence[str],
    *,
    was: Sequence[PlannedPoint],
    nameplate: Mapping[str, Any],
) -> tuple[PlannedPoint, ...]:
    """Return the points of these labels; *was* are those that are proposed.

    A listed card takes any labels; one of phases or poles those that begin with a
    proposed place (`pole A, second gap`); a relay's multiples of its pickup; what
    else the point fixes is not changed, only left out. Raises InputError at
    `points` with every line that cannot be.
    """
    wanted = [_spelt(procedure, label) for label in labels if label.strip()]
    faults = [*_list_faults(wanted), *_line_faults(procedure, wanted, was)]
    if faults:
        raise InputError(*(Fault(field="points", message=f) for f in faults))
    known = {point.label: point for point in was}
    return tuple(
        known[label] if label in known else _new(procedure, label, was, nameplate)
        for label in wanted
    )


def _spelt(procedure: str, label: str) -> str:
    """Return a label as the program writes it: a number becomes a multiple."""
    said = " ".join(label.split())
    found = MULTIPLE.match(said)
    if PROCEDURES[procedure].points.pattern == "multiples" and found:
        return f"{float(found[1]):g} × pickup"
    return said


def _list_faults(labels: Sequence[str]) -> Iterator[str]:
    if not labels:
        yield "Keep at least one point, or leave the card out."
    if len(labels) > MOST_POINTS:
        yield f"A card has at most {MOST_POINTS} points; these are {len(labels)}."
    for label in sorted({one for one in labels if labels.count(one) > 1}):
        yield f"'{label}' stands twice: each point is read once."


def _line_faults(
    procedure: str, labels: Sequence[str], was: Sequence[PlannedPoint]
) -> Iterator[str]:
    known = {point.label for point in was}
    for label in labels:
        if label in known:
            continue
        if len(label) > LONGEST_LABEL or not storable(label):
            yield f"'{label[:20]}…' is no name: keep it under {LONGEST_LABEL} letters."
        elif fault := _pattern_fault(procedure, label, was):
            yield fault


def _pattern_fault(
    procedure: str, label: str, was: Sequence[PlannedPoint]
) -> str | None:
    about = PROCEDURES[procedure].points
    if about.pattern == "listed":
        return None
    if about.pattern == "multiples":
        return _multiple_fault(label)
    places = list(dict.fromkeys([*(p.label for p in was), *PATTERNS[about.pattern]]))
    if about.by:
        return f"'{label}': choose from {', '.join(p.label for p in was)}."
    if label in places or any(label.startswith(f"{place}, ") for place in places):
        return None
    return (
        f"'{label}' is no point of {in_sentence(PROCEDURES[procedure].title)}: "
        f"begin with one of {', '.join(places)}, then a comma and what tells it apart."
    )


def _multiple_fault(label: str) -> str | None:
    found = MULTIPLE.match(label)
    if found and LEAST_MULTIPLE <= float(found[1]) <= GREATEST_MULTIPLE:
        return None
    return (
        f"'{label}' is no multiple of the pickup: write a number from "
        f"{LEAST_MULTIPLE:g} to {GREATEST_MULTIPLE:g}, such as 4 × pickup."
    )


def _new(
    procedure: str,
    label: str,
    was: Sequence[PlannedPoint],
    nameplate: Mapping[str, Any],
) -> PlannedPoint:
    if PROCEDURES[procedure].points.pattern == "multiples":
        found = MULTIPLE.match(label)
        return timing_points(nameplate, [float(found[1]) if found else 0.0])[0]
    place = next((p for p in was if label.startswith(f"{p.label}, ")), None)
    return PlannedPoint(
        label=label,
        group=place.group if place else group_of(label),
        given=dict(place.given) if place else {},
    )
