"""The starting points, read from `starting_points.toml` when first asked for."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from models.errors import NotFoundError
from models.procedures.plates import cell_kinds

FIRST, SECOND = "first", "second"


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What a cell holds: kind of apparatus and tag, with `{p}` and `{n}` in it."""

    kind: str
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CellPlan:
    """A cell of a starting point; *share*: the half of the repeated ones it takes."""

    name: str
    kind: str
    bus: str
    tie_to: str | None = None
    repeat: bool = False
    share: str = ""
    holds: Sequence[Held]


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeated:
    """How many of the repeated cells there can be, and how that is asked."""

    label: str
    least: int
    greatest: int
    usual: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One starting point."""

    key: str
    title: str
    about: str
    gear: str
    sections: Sequence[str]
    repeated: Repeated
    cells: Sequence[CellPlan]


@cache
def points() -> Sequence[Point]:
    """Return every starting point, in the order in which they are offered."""
    return [_point(key, row) for key, row in _file()["points"].items()]


def point_of(key: str) -> Point:
    """Return one starting point; NotFoundError where there is none of that key."""
    for one in points():
        if one.key == key:
            return one
    raise NotFoundError("starting point", key)


def holds_of(kind: str) -> Sequence[Held]:
    """Return what a cell of this *kind* holds when it is added."""
    return [Held(**one) for one in _file()["holds"][kind]]


def tag_of(kind: str) -> str:
    """Return the tag of an apparatus of this *kind*, with `{p}` and `{n}` in it."""
    tag: str = _file()["tags"][kind]
    return tag


def likely_cells(gear: str) -> Sequence[str]:
    """Return every kind of cell, those first that such gear mostly has."""
    likely = _file()["gears"][gear]["likely"]
    return [*likely, *(kind for kind in cell_kinds() if kind not in likely)]


def table_of(gear: str) -> str:
    """Return the key of the published table that such *gear* is rated by."""
    table: str = _file()["gears"][gear]["table"]
    return table


@cache
def _file() -> Mapping[str, Any]:
    text = files(__package__).joinpath("starting_points.toml").read_text("utf-8")
    return tomllib.loads(text)


def _point(key: str, row: Mapping[str, Any]) -> Point:
    about = {name: row[name] for name in ("title", "about", "gear", "sections")}
    cells = [_cell(one) for one in row["cells"]]
    return Point(key=key, repeated=Repeated(**row["repeated"]), cells=cells, **about)


def _cell(row: Mapping[str, Any]) -> CellPlan:
    own = [Held(**one) for one in row.get("holds", ())]
    said = {name: value for name, value in row.items() if name != "holds"}
    return CellPlan(holds=own or holds_of(row["kind"]), **said)
