"""What is noted with a line or stands in a register, in words."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from models.record.safety_report.told import Json, Told, noted_of


def noted_words(told: Told, noted: Json, at: str) -> list[list[str]]:
    """Return label and value of what was noted, blank ones left out.

    *at* is the time of the act: a time of the same day is said without its day.
    """
    fields = told.book["fields"]
    found = [
        [fields[name]["label"], value_words(told, fields[name], value, at)]
        for name, value in noted.items()
        if name in fields and value not in (None, "", [])
    ]
    return [[label, value] for label, value in found if value]


def values(told: Told, act: Json) -> str:
    """Return the values noted with a line, one after the other."""
    return ", ".join(value for _, value in noted_words(told, noted_of(act), act["at"]))


def value_words(told: Told, field: Json, value: Any, at: str) -> str:
    """Return a value as people say it, a ground and a cell by what they are called."""
    words = bare_words(told, field, value, at)
    unit = field.get("unit")
    return f"{words} {unit}" if unit and words else words


def bare_words(told: Told, field: Json, value: Any, at: str) -> str:
    """Return a value without its unit."""
    return WORDS.get(field["kind"], _plain)(told, value, at)


def item_words(told: Told, register: str, item: str) -> str:
    """Return an item of a register as it was last written; the id where it is not."""
    written = [
        act["fields"]
        for act in told.of_kind("list")
        if (act["register"], act["item"]) == (register, item)
    ]
    return fields_words(told, register, written[-1]) if written else item


def ground_name(told: Told, item: str) -> str:
    """Return what a ground is called: its number, else all that is written of it."""
    written = [
        act["fields"].get("number")
        for act in told.of_kind("list")
        if (act["register"], act["item"]) == ("ground", item)
    ]
    return (
        str(written[-1])
        if written and written[-1]
        else item_words(told, "ground", item)
    )


def fields_words(told: Told, register: str, fields: Json) -> str:
    """Return what stands in an item of a register, in the order of its fields."""
    order: Sequence[str] = told.book["registers"].get(register, [])
    known = told.book["fields"]
    said = [
        value_words(told, known[name], fields[name], "1970-01-01T00:00:00+00:00")
        for name in order
        if name in known and fields.get(name) not in (None, "", [])
    ]
    return " ".join(said)


def _plain(told: Told, value: Any, at: str) -> str:
    return number_words(value)


def number_words(value: Any) -> str:
    """Return a value as it is written: a whole number without a point."""
    whole = isinstance(value, float) and value.is_integer()
    return str(int(value)) if whole else str(value)


def _choice(told: Told, value: Any, at: str) -> str:
    return str(value).replace("_", " ")


def _time(told: Told, value: Any, at: str) -> str:
    try:
        return told.clock(value, at)
    except (TypeError, ValueError):  # as it was sent, if it is no time
        return str(value)


def _person(told: Told, value: Any, at: str) -> str:
    return str(value["name"]) if _is_person(value) else str(value)


def _people(told: Told, value: Any, at: str) -> str:
    return ", ".join(_person(told, one, at) for one in _listed(value))


def _grounds(told: Told, value: Any, at: str) -> str:
    return ", ".join(item_words(told, "ground", str(one)) for one in _listed(value))


def _cell(told: Told, value: Any, at: str) -> str:
    known = isinstance(value, str) and value in told.cells
    return told.where(value) if known else str(value)


def _is_person(value: Any) -> bool:
    return isinstance(value, Mapping) and "name" in value


def _listed(value: Any) -> Sequence[Any]:
    return value if isinstance(value, list | tuple) else [value]


WORDS: dict[str, Callable[[Told, Any, str], str]] = {
    "choice": _choice,
    "time": _time,
    "person": _person,
    "people": _people,
    "grounds": _grounds,
    "cell": _cell,
}
