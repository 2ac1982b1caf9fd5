"""Lay a starting point out: its answers give a full draft."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from models.errors import Fault, InputError
from models.fields import Field, field, read_value
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.services.setup.starting_points.points import (
    FIRST,
    SECOND,
    CellPlan,
    Point,
    point_of,
)
from models.services.setup.starting_points.rated_rows import RatedRow, rated_rows

LONGEST_PREFIX = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What was asked before: texts, as they were typed."""

    name: str = ""
    row: str = ""
    rated_a: str = ""
    repeated: str = ""
    prefix: str = ""


def lay_out(key: str, answers: Answers) -> LineupDraft:
    """Return the draft of the starting point *key*.

    Of the plates only what the answers say is given: makers' fields stay empty. Raises
    NotFoundError: no such starting point; InputError with every answer that cannot be.
    """
    point = point_of(key)
    read = _read(point, answers)
    cells = _cells(point, read["repeated"], answers.prefix.strip())
    row: RatedRow = read["row"]
    ratings = {
        "rated_kv": row.rated_kv,
        "rated_withstand_kv": row.rated_withstand_kv,
        "rated_impulse_kv": row.rated_impulse_kv,
        "rated_a": read["rated_a"],
    }
    return LineupDraft(
        name=" ".join(answers.name.split()),
        gear=point.gear,
        ratings={name: value for name, value in ratings.items() if value is not None},
        sections=[
            SectionDraft(name=name, rated_a=read["rated_a"]) for name in point.sections
        ],
        cells=cells,
    )


def _read(point: Point, answers: Answers) -> dict[str, Any]:
    faults: list[Fault] = []
    rows = {row.key: row for row in rated_rows(point.gear)}
    if answers.row not in rows:
        message = "Choose the voltages that stand on the lineup's own plate."
        faults.append(Fault(field="row", message=message))
    if len(answers.prefix.strip()) > LONGEST_PREFIX:
        message = f"Keep it within {LONGEST_PREFIX} characters."
        faults.append(Fault(field="prefix", message=message))
    rated_a = None
    if answers.rated_a.strip():
        rated_a = _number(faults, "rated_a", field("rated_a"), answers.rated_a)
    repeated = _number(faults, "repeated", _counted(point), answers.repeated)
    if faults:
        raise InputError(*faults)
    return {
        "row": rows[answers.row],
        "rated_a": rated_a,
        "repeated": int(repeated or 0),
    }


def _counted(point: Point) -> Field:
    about = point.repeated
    return Field(
        name="repeated",
        label=about.label,
        roles=frozenset(),
        least=about.least,
        greatest=about.greatest,
        whole=True,
    )


def _number(faults: list[Fault], name: str, about: Field, text: str) -> float | None:
    try:
        value: float = read_value(about, text)
    except InputError as error:
        faults += [Fault(field=name, message=fault.message) for fault in error.faults]
        return None
    return value


def _cells(point: Point, repeated: int, prefix: str) -> list[CellDraft]:
    cells: list[CellDraft] = []
    with_bus: set[str] = set()
    for plan, count in _each(point, repeated):
        number = str(len(cells) + 1)
        said: Mapping[str, Any] = {"n": number, "p": prefix, "k": count}
        bus = [] if plan.bus in with_bus else [_bus(plan.bus)]
        with_bus.add(plan.bus)
        held = [
            ApparatusDraft(kind=one.kind, label=one.label.format(**said))
            for one in plan.holds
        ]
        cells.append(
            CellDraft(
                number=number,
                name=plan.name.format(**said),
                kind=plan.kind,
                bus=plan.bus,
                tie_to=plan.tie_to,
                apparatus=[*bus, *held],
            )
        )
    return cells


def _bus(section: str) -> ApparatusDraft:
    """Return the bus of a section: it stands in the section's first cell."""
    return ApparatusDraft(kind="bus", label=section)


def _each(point: Point, repeated: int) -> Iterator[tuple[CellPlan, int]]:
    """Yield each cell, a repeated one as often as it stands, with its count."""
    first = (repeated + 1) // 2
    counts = {
        "": range(1, repeated + 1),
        FIRST: range(1, first + 1),
        SECOND: range(first + 1, repeated + 1),
    }
    for plan in point.cells:
        for count in counts[plan.share] if plan.repeat else (0,):
            yield plan, count
