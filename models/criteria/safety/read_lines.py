"""Read the lines and the fields from their files."""

import re
from collections.abc import Mapping
from typing import Any

from models.criteria.safety.line import NotedField, Only, SafetyLine
from models.criteria.safety.read import SOURCES, Data, Place
from models.criteria.safety.words import (
    CELL_FACTS,
    EACH,
    FIELD_KINDS,
    ONLY,
    REGISTERS,
    SCOPES,
    WHENS,
)
from models.fields import field as field_named

CODE = re.compile(r"[A-Z]{1,2}\d+[a-z]?")
LINE: Mapping[str, str] = {
    "code": "text",
    "text": "text",
    "asked": "text",
    "each": "texts",
    "noted": "texts",
    "lapses": "texts",
    "only": "table",
    "when": "table",
    "suspends": "table",
    "never_waived": "flag",
    **SOURCES,
}
FIELD: Mapping[str, str] = {
    "label": "text",
    "kind": "text",
    "unit": "text",
    "choices": "texts",
    "required": "flag",
}


def read_lines(place: Place, data: Data) -> list[SafetyLine]:
    """Return the lines of one file; what is wrong with it is noted at *place*."""
    if not place.table(data, {"scope": "text", "line": "tables"}, ("scope", "line")):
        return []
    place.known([data["scope"]], SCOPES)
    return [line for one in data["line"] for line in _line(place, data["scope"], one)]


def _line(place: Place, scope: Any, one: Data) -> list[SafetyLine]:
    at = place.at(str(one.get("code", "a line without code")))
    if not at.table(one, LINE, ("code", "text", "asked")):
        return []
    if not CODE.fullmatch(one["code"]):
        at.fault("a code is one or two capitals, a number, perhaps a letter")
    at.known(one.get("each", ()), EACH.get(scope, ()))
    only, when = one.get("only", {}), one.get("when", {})
    if _only_is_right(at.at("only"), only) and _when_is_right(at.at("when"), when):
        said: dict[str, Any] = {
            key: tuple(value) if isinstance(value, list) else value
            for key, value in one.items()
            if key not in SOURCES
        }
        said["only"] = Only(**{key: tuple(words) for key, words in only.items()})
        return [SafetyLine(scope=scope, sources=at.sources(one), **said)]
    return []


def _only_is_right(at: Place, only: Data) -> bool:
    right = at.table(only, dict.fromkeys(ONLY, "texts"), ())
    if right:
        at.known(only.get("gears", ()), field_named("gear").choices)
        at.known(only.get("facts", ()), CELL_FACTS)
    return right


def _when_is_right(at: Place, when: Data) -> bool:
    kinds = [word for word in WHENS if word in when]
    if when and len(kinds) != 1:
        at.fault(f"write one of {', '.join(WHENS)}")
        return False
    if "register" in when:
        at.known([when["register"]], REGISTERS)
        return at.table(when, {"register": "text", **_rest(when, "register")}, ())
    shapes = {"item": "table", "given": "texts", "grounds": "flag", "new_shift": "flag"}
    return at.table(when, shapes, ())


def _rest(when: Data, but: str) -> dict[str, str]:
    return {key: "texts" for key in when if key != but}


def read_fields(place: Place, data: Data) -> dict[str, NotedField]:
    """Return the fields by name; what is wrong with them is noted at *place*."""
    found: dict[str, NotedField] = {}
    for name, one in data.get("field", {}).items():
        at = place.at(name)
        if not at.table(one, FIELD, ("label",)):
            continue
        at.known([one.get("kind", "text")], FIELD_KINDS)
        if (one.get("kind") == "choice") != bool(one.get("choices")):
            at.fault("a choice has choices, and nothing else has them")
        found[name] = NotedField(**one)
    return found


def read_registers(
    place: Place, data: Data, fields: Mapping[str, NotedField]
) -> dict[str, list[str]]:
    """Return the fields of each register's items."""
    found: dict[str, list[str]] = data.get("register", {})
    place.known(found, REGISTERS)
    for name, names in found.items():
        place.at("register", name).known(names, fields)
    return found
