"""What is wrong with the file of a declared procedure: each fault with its place."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.fields import Role, field, find_field
from models.judging.quantities import UNITS
from models.judging.said import is_said
from models.judging.series import SERIES
from models.judging.values import Outcome
from models.procedures.file_words import (
    asked,
    choices_of,
    unknown_keys,
    unknown_words,
)
from models.procedures.gives import give_faults
from models.procedures.notes import MAKERS
from models.procedures.part_faults import part_faults
from models.procedures.procedure import SCALES, SIDES, WAVEFORMS, WORSE
from models.procedures.words import (
    GIVES,
    HEAD,
    MUST,
    ON,
    PATTERNS,
    POINTS,
    SAFETY,
    SHAPE_WORDS,
    SHAPES,
    SUGGESTED,
    TREND,
    UNIT,
)

Data = Mapping[str, Any]


def faults(file: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with the file, in its order, each with file and key."""
    for fault in _faults(file, data):
        yield f"{file}: {fault}"


def _faults(file: str, data: Data) -> Iterator[str]:
    missing = [f"'{key}' is missing" for key in MUST if key not in data]
    unknown = list(unknown_keys("", data, HEAD))
    first = [*missing, *unknown, *_shape_faults(data)]
    if first:
        yield from first
        return
    if file != f"{data['name']}.toml":
        yield f"name: '{data['name']}' is not the name of the file"
    yield from _on_faults(data["on"])
    yield from _safety_faults(data)
    yield from _unit_faults(data)
    yield from _ask_faults(data)
    yield from _field_faults(data)
    yield from _points_faults(data)
    yield from _trend_faults(data["trend"])
    yield from _word_faults(data)
    yield from _gives_faults(data)
    yield from give_faults(data.get("questions", ()), asked(data))
    yield from part_faults(data)


def _shape_faults(data: Data) -> Iterator[str]:
    """Yield each key of the head, of `on` and of `unit` that holds another shape."""
    tables = {place: data.get(place) for place in ("on", "unit")}
    for place, table in {"": data, **tables}.items():
        if not isinstance(table, Mapping):
            continue
        for shape, keys in SHAPES.items():
            for key in keys:
                if key in table and not isinstance(table[key], shape):
                    said = f"{place}, {key}" if place else key
                    yield f"{said}: this is {SHAPE_WORDS[shape]}"


def _on_faults(on: Data) -> Iterator[str]:
    yield from unknown_keys("on", on, ON)
    yield from (f"on: '{key}' is missing" for key in ON if not on.get(key))
    yield from unknown_words("on, gears", on.get("gears", ()), field("gear").choices)


def _safety_faults(data: Data) -> Iterator[str]:
    said = data["safety"]
    yield from unknown_keys("safety", said, SAFETY)
    if "by" not in said:
        if not isinstance(said.get("group"), str):
            yield "safety: write group = the kind of test, or by and groups"
        return
    choices = choices_of(data, said["by"])
    if choices is None:
        yield f"safety, by: '{said['by']}' is not asked for"
        return
    groups = said.get("groups", {})
    yield from unknown_words("safety, groups", groups, choices)
    missing = [word for word in choices if word not in groups]
    yield from (f"safety, groups: '{word}' is missing" for word in missing)


def _unit_faults(data: Data) -> Iterator[str]:
    unit = data.get("unit", {})
    yield from unknown_keys("unit", unit, UNIT)
    yield from _said_faults(unit.get("said"), unit.get("rule"), asked(data))
    read, rule = unit.get("read", ()), unit.get("rule")
    yield from unknown_words("unit, read", read, UNITS)
    if rule is None:
        if read:
            yield "unit: 'rule' is missing"
        return
    yield from unknown_words("unit, rule", [rule], UNITS)
    for one in read:
        if {one, rule} <= set(UNITS) and UNITS[one].quantity != UNITS[rule].quantity:
            yield f"unit, read: '{one}' is not a {UNITS[rule].quantity}, as '{rule}' is"


def _said_faults(said: Any, rule: str | None, names: Sequence[str]) -> Iterator[str]:
    """Yield what is wrong with the unit in which values are said."""
    if not is_said(said, rule):
        yield f"unit, said: '{said}' is not a unit like '{rule}', or {{ on = ... }}"
    elif isinstance(said, Mapping) and said["on"] not in names:
        yield f"unit, said: '{said['on']}' is not asked for"


def _ask_faults(data: Data) -> Iterator[str]:
    names = asked(data)
    for name in dict.fromkeys(names):
        if names.count(name) > 1:
            yield f"asks: '{name}' stands twice"
    for one, name in zip(data.get("asks", ()), names, strict=True):
        known = ("field", "label", "required", "choices", "fixed_by", "when")
        if not isinstance(one, str):
            yield from unknown_keys(f"asks, {name}", one, known)
        about = find_field(name)
        if about is None or Role.CONDITION not in about.roles:
            yield f"asks: '{name}' is no condition in the table of fields"
        elif one != name and isinstance(one, Mapping) and "choices" in one:
            yield from unknown_words(f"asks, {name}", one["choices"], about.choices)
        if isinstance(one, Mapping):
            yield from unknown_words(f"asks, {name}, when", one.get("when", {}), names)


def _field_faults(data: Data) -> Iterator[str]:
    plates = {Role.NAMEPLATE, Role.RELAY, Role.SITE}
    for key, roles, what in (
        ("rests_on", plates, "on a nameplate or a setting"),
        ("columns", {Role.COLUMN}, "a column of readings files"),
    ):
        names = data.get(key, ())
        for name in names:
            about = find_field(name)
            if name != "gear" and (about is None or not roles & about.roles):
                yield f"{key}: '{name}' is not {what} in the table of fields"
            if names.count(name) > 1:
                yield f"{key}: '{name}' stands twice"


def _points_faults(data: Data) -> Iterator[str]:
    points = data["points"]
    yield from unknown_keys("points", points, POINTS)
    yield from unknown_words("points, pattern", [points.get("pattern", "")], PATTERNS)
    for on, words in points.get("by", {}).items():
        about = find_field(on)
        if on not in asked(data) or about is None:
            yield f"points, by: '{on}' is not asked for"
        else:
            yield from unknown_words(f"points, by {on}", words, about.choices)


def _trend_faults(trend: Data) -> Iterator[str]:
    yield from unknown_keys("trend", trend, TREND)
    yield from unknown_words("trend, worse", [trend.get("worse", "")], WORSE)
    yield from unknown_words("trend, scale", [trend.get("scale", "")], SCALES)


def _word_faults(data: Data) -> Iterator[str]:
    for key, allowed in (
        ("outcomes", [outcome.value for outcome in Outcome]),
        ("series", SERIES),
        ("notes", MAKERS),
    ):
        yield from unknown_words(key, data.get(key, ()), allowed)
    yield from unknown_words("waveform", [data.get("waveform", "")], WAVEFORMS)
    decision = data.get("judged", {}).get("decision", "guarded")
    yield from unknown_words("judged, decision", [decision], ("simple", "guarded"))


def _gives_faults(data: Data) -> Iterator[str]:
    for one in data.get("gives", ()):
        place = f"gives, {one.get('name', '')}"
        yield from unknown_keys(place, one, GIVES)
        needed = [key for key in ("name", "title", "side", "units") if key not in one]
        yield from (f"{place}: '{key}' is missing" for key in needed)
        yield from unknown_words(place, [one.get("side", "")], SIDES)
        yield from unknown_words(place, one.get("units", ()), ("times", "%", *UNITS))
        if "suggested" in one:
            said = one["suggested"]
            place = f"{place}, suggested"
            yield from unknown_keys(place, said, SUGGESTED)
            yield from (
                f"{place}: '{k}' is missing" for k in SUGGESTED if k not in said
            )
