"""The lines and all that belongs to them, read once and checked."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from models.criteria.safety.disagreements import disagreements
from models.criteria.safety.line import SafetyBooks, SafetyLine
from models.criteria.safety.read import Place, refuse
from models.criteria.safety.read_lines import read_fields, read_lines, read_registers
from models.criteria.safety.read_lists import (
    read_cautions,
    read_groups,
    read_rule_sets,
    read_shown,
)
from models.errors import CriteriaError
from models.procedures import PROCEDURES

FOLDER = files("models.criteria").joinpath("safety")


@cache
def books() -> SafetyBooks:
    """Return what the files say.

    Raises CriteriaError with every fault: the file, the line's code or the table, what
    is wrong, and what is allowed.
    """
    return read_books(shipped_files())


def load_lines() -> Mapping[str, SafetyLine]:
    """Return every line by its code; CriteriaError like `books`."""
    return books().lines


def read_books(data: Mapping[str, Mapping[str, Any]]) -> SafetyBooks:
    """Return what *data* says, by the name of each file; CriteriaError for faults."""
    faults: list[str] = []
    rest = {name: data[name] for name in data if not name.startswith("lines/")}
    places = {name: Place(faults, name) for name in data}
    fields = read_fields(places["fields.toml"], rest["fields.toml"])
    lines: dict[str, SafetyLine] = {}
    for name in data:
        if name in rest:
            continue
        for line in read_lines(places[name], data[name]):
            if line.code in lines:
                places[name].at(line.code).fault("the code is used twice")
            lines[line.code] = line
    found = SafetyBooks(
        lines=MappingProxyType(lines),
        fields=MappingProxyType(fields),
        registers=read_registers(places["fields.toml"], rest["fields.toml"], fields),
        groups=read_groups(places["lists.toml"], rest["lists.toml"]),
        cautions={
            one.key: one
            for one in read_cautions(places["cautions.toml"], rest["cautions.toml"])
        },
        shown=read_shown(places["shown.toml"], rest["shown.toml"]),
        changes=rest["changes.toml"],
        rule_sets={
            one.code: one
            for one in read_rule_sets(places["rules.toml"], rest["rules.toml"])
        },
        governs=rest["rules.toml"].get("governs", ""),
    )
    refuse(faults)
    refuse(list(disagreements(found, PROCEDURES)))
    return found


def shipped_files() -> dict[str, dict[str, Any]]:
    """Return what stands in each file, by its name under this folder."""
    found = {}
    for folder, before in ((FOLDER, ""), (FOLDER.joinpath("lines"), "lines/")):
        for file in sorted(folder.iterdir(), key=lambda one: one.name):
            if file.name.endswith(".toml"):
                name = before + file.name
                found[name] = _parsed(name, file.read_text("utf-8"))
    return found


def _parsed(name: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CriteriaError(f"safety/{name}: {error}") from error
