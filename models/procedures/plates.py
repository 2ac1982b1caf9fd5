"""The kinds of apparatus and cells, and what a nameplate of each can say.

The kinds are rows of `plates.toml`. To what a kind lists there come the fields that
limits rest on, from every procedure that is done on it.
"""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from models.errors import CriteriaError
from models.fields import FIELDS, Field, Role
from models.procedures.registry import PROCEDURES

LINEUP = "lineup"  # its own nameplate, beside those of the apparatus
GROUPS = MappingProxyType(
    {
        "identity": "What it is",
        "ratings": "Ratings",
        "limits": "Maker’s limits",
        "settings": "Settings",
    }
)
IDENTITY = "identity"


@dataclass(frozen=True, slots=True)
class ApparatusKind:
    """A kind of apparatus, as `plates.toml` lists it.

    *movable*: it can go to another cell or to the spare shelf, but not in gear of
    *fixed_in*.
    """

    name: str
    label: str
    movable: bool
    fixed_in: Sequence[str]

    def moves_in(self, gear: str) -> bool:
        """Whether it can be taken out of a cell in this *gear*."""
        return self.movable and gear not in self.fixed_in


@cache
def _file() -> Mapping[str, Any]:
    text = files("models.procedures").joinpath("plates.toml").read_text("utf-8")
    return tomllib.loads(text)


@cache
def apparatus_kinds() -> Mapping[str, ApparatusKind]:
    """Return every kind of apparatus that a cell can hold, by its name."""
    return MappingProxyType(
        {
            name: ApparatusKind(
                name,
                row["label"],
                row.get("movable", False),
                tuple(row.get("fixed_in", ())),
            )
            for name, row in _file()["kinds"].items()
        }
    )


@cache
def cell_kinds() -> Mapping[str, str]:
    """Return what a cell can be drawn with: its symbol's name and words."""
    return MappingProxyType(dict(_file()["cells"]))


@cache
def plate_groups(kind: str) -> Mapping[str, Sequence[Field]]:
    """Return the fields of a nameplate by the names of GROUPS; `lineup` is a kind too.

    A group that has none is left out. Raises KeyError for a kind that is none,
    CriteriaError where `plates.toml` names a field that is none.
    """
    file = _file()
    row = file["lineup"] if kind == LINEUP else file["kinds"][kind]
    listed = {
        IDENTITY: file["identity"],
        **{g: row.get(g, ()) for g in GROUPS if g in row},
    }
    named = {name: group for group, names in listed.items() for name in names}
    if kind != LINEUP:
        named = {**{name: _group(name) for name in _rested_on(kind)}, **named}
    if unknown := sorted(set(named) - set(FIELDS)):
        raise CriteriaError(f"plates.toml, {kind}: no field {', '.join(unknown)}")
    order = [*listed[IDENTITY], *row.get("ratings", ()), *FIELDS]
    names = sorted(named, key=order.index)
    found = {g: tuple(FIELDS[n] for n in names if named[n] == g) for g in GROUPS}
    return MappingProxyType({g: held for g, held in found.items() if held})


@cache
def plate_fields(kind: str) -> tuple[Field, ...]:
    """Return every field of a *kind*'s nameplate, group by group."""
    return tuple(one for held in plate_groups(kind).values() for one in held)


@cache
def plate_names(kind: str) -> frozenset[str]:
    """Return the names of the fields of a *kind*'s nameplate."""
    return frozenset(one.name for one in plate_fields(kind))


def _rested_on(kind: str) -> Iterator[str]:
    """Yield what limits of procedures on *kind* rest on, of its own plate."""
    for procedure in PROCEDURES.values():
        if kind in procedure.apparatus:
            yield from filter(_on_a_plate, procedure.rests_on)


def _on_a_plate(name: str) -> bool:
    """Return whether it stands on a plate: not the gear, nor what the site sets."""
    return name != "gear" and FIELDS[name].roles != {Role.COLUMN}


def _group(name: str) -> str:
    roles = FIELDS[name].roles
    if Role.RELAY in roles or roles <= {Role.SITE, Role.CONDITION}:
        return "settings"
    rated = name in _file()["lineup"]["ratings"] or name in ("conductor", "insulation")
    return "ratings" if rated else "limits"
