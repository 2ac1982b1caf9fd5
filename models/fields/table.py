"""The table of fields: every quantity that the program knows, once.

It is read when the program starts; a fault in it stops the program.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from models.errors import Fault, InputError
from models.fields.load import load
from models.fields.row import Field, Role
from models.words import say

FIELDS = load()
BEGINNINGS = tuple(one for one in FIELDS.values() if one.begins)


def find_field(name: str) -> Field | None:
    """Return the field *name*, or None: a name that begins as a row says is one."""
    found = FIELDS.get(name)
    if found is not None and not found.begins:
        return found
    for one in BEGINNINGS:
        if name.startswith(one.name) and name != one.name:
            return replace(one, name=name, begins=False)
    return None


def field(name: str) -> Field:
    """Return the field *name*; InputError when there is none."""
    found = find_field(name)
    if found is None:
        raise InputError(Fault(field=name, message=say("field.none", name=name)))
    return found


@lru_cache(maxsize=256)
def narrowed(name: str, choices: tuple[str, ...]) -> Field:
    """Return the field *name* with these of its choices; none named: with all."""
    return replace(field(name), choices=choices) if choices else field(name)


def fields(role: str) -> Sequence[Field]:
    """Return the fields that are for *role*, in the order of the files."""
    return [one for one in FIELDS.values() if Role(role) in one.roles]
