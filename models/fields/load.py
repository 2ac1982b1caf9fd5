"""Read the rows of fields from their files; a fault says file, row and key."""

import tomllib
from collections.abc import Iterator, Mapping
from itertools import chain
from pathlib import Path
from typing import Any

from models.errors import CriteriaError
from models.fields.row import Field, Kind, Role
from models.fields.units import UNITS

HERE = Path(__file__).parent
FLAGS = ("whole", "many", "exponent", "begins", "lasts", "own")
ENDS = ("least", "above", "greatest", "below")
TEXTS = ("label", "short", "unit", "unit_of", "hint", "about", "blank")
KEYS: Mapping[str, tuple[type, ...]] = {
    **dict.fromkeys(TEXTS, (str,)),
    **dict.fromkeys(ENDS, (int, float)),
    **dict.fromkeys(FLAGS, (bool,)),
    "kind": (str,),
    "decimals": (int,),
    "read": (list,),
    "choices": (list,),
    "words": (dict,),
    "roles": (list,),
}
OF_NUMBERS = frozenset({*ENDS, "decimals", "read", "unit_of", "whole", "exponent"})
OF_CHOICES = frozenset({"choices", "words"})
Row = Mapping[str, Any]


def load(folder: Path = HERE) -> dict[str, Field]:
    """Return the fields of the files in *folder* by name.

    Raises CriteriaError with every fault: an unknown key, a unit that is none, a
    range that holds nothing, a name that stands twice ...
    """
    found: dict[str, Field] = {}
    faults: list[str] = []
    for path in sorted(folder.glob("*.toml")):
        for name, row in _rows(path).items():
            place = f"fields/{path.name}, {name}"
            wrong = [f"{place}: {fault}" for fault in _faults(row)]
            if name in found:
                wrong.append(f"{place}: stands in another file already")
            if not wrong:
                found[name] = _field(name, row)
            faults.extend(wrong)
    if faults:
        raise CriteriaError("\n".join(faults))
    return found


def _rows(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise CriteriaError(f"fields/{path.name}: {error}") from error


def _field(name: str, row: Row) -> Field:
    given: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value
        for key, value in row.items()
    }
    return Field(
        name=name,
        kind=Kind(given.pop("kind", Kind.NUMBER)),
        roles=frozenset(Role(role) for role in given.pop("roles")),
        **given,
    )


def _faults(row: Any) -> Iterator[str]:
    if not isinstance(row, dict):
        yield "is no row: write name = { label = ..., roles = [...] }"
        return
    shape = list(_shape_faults(row))
    yield from shape or chain(
        _kind_faults(row), _range_faults(row), _unit_faults(row), _choice_faults(row)
    )


def _shape_faults(row: Row) -> Iterator[str]:
    for key, value in row.items():
        if key not in KEYS:
            yield f"'{key}' is none of {', '.join(KEYS)}"
        elif not isinstance(value, KEYS[key]) or (
            isinstance(value, bool) and key not in FLAGS
        ):
            yield f"'{key}' cannot be {value!r}"
    yield from (f"'{key}' is missing" for key in ("label", "roles") if not row.get(key))
    if row.get("kind", Kind.NUMBER) not in list(Kind):
        yield f"kind '{row['kind']}' is none of {', '.join(Kind)}"
    for role in row.get("roles") or ():
        if role not in list(Role):
            yield f"role '{role}' is none of {', '.join(Role)}"


def _kind_faults(row: Row) -> Iterator[str]:
    kind = row.get("kind", Kind.NUMBER)
    foreign = set() if kind == Kind.NUMBER else {*OF_NUMBERS, "unit", "many"}
    if kind != Kind.CHOICE:
        foreign |= OF_CHOICES
    for key in sorted(foreign & set(row)):
        yield f"'{key}' does not go with kind '{kind}'"


def _range_faults(row: Row) -> Iterator[str]:
    for one, other in (("least", "above"), ("greatest", "below")):
        if one in row and other in row:
            yield f"'{one}' and '{other}' exclude each other"
    low, high = (
        row.get("least", row.get("above")),
        row.get("greatest", row.get("below")),
    )
    if low is not None and high is not None and not low < high:
        yield f"nothing lies between {low} and {high}"
    if "column" in row["roles"] and "blank" not in row:
        yield "'blank' is missing: a column says what happens without it"


def _unit_faults(row: Row) -> Iterator[str]:
    unit = row.get("unit", "")
    for one in filter(None, (unit, *row.get("read", ()))):
        if one not in UNITS:
            yield f"unit '{one}' is none of {', '.join(UNITS)}"
        elif unit in UNITS and UNITS[one].quantity != UNITS[unit].quantity:
            yield f"unit '{one}' is no {UNITS[unit].quantity}, as '{unit}' is"
        elif not unit:
            yield f"'{one}' is read, but 'unit' is missing"


def _choice_faults(row: Row) -> Iterator[str]:
    choices = row.get("choices", [])
    if row.get("kind") == Kind.CHOICE and not choices:
        yield "'choices' is missing"
    if len(set(choices)) < len(choices):
        yield "a choice stands twice"
    for word in row.get("words", {}):
        if word not in choices:
            yield f"words for '{word}', which is no choice"
