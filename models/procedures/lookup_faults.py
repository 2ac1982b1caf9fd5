"""What is wrong with a look-up of a declared procedure, and which tables it wants."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.fields import find_field
from models.judging.quantities import UNITS
from models.procedures.asked import asked, choices
from models.procedures.lookups import AS, FIND, Lookup, first_of, word_of, words_of

Data = Mapping[str, Any]
ARGUMENTS: Mapping[str, tuple[str, ...]] = {
    "given": (),
    "column": (),
    "plate": ("times", "plus"),
    "setting": ("times", "plus"),
    "site": ("times", "plus"),
    "table": ("column", "row", "match", "at_or_above", "each", "as", "unit", "missing"),
    "least_of": (),
    "product": (),
    "quotient": (),
}


def figure_faults(place: str, lookup: Any, unit: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with the figure that is looked up in *unit*."""
    if not isinstance(lookup, Mapping) or not lookup:
        yield f"{place}: a figure is looked up: write {{ plate = ... }}, say"
        return
    if "first_of" in lookup:
        for key in lookup:
            if key != "first_of":
                yield f"{place}: '{key}' is not known beside 'first_of'"
        chosen = ["by" in one or "each" in one for one in lookup["first_of"]]
        if chosen != sorted(chosen):
            yield f"{place}: what a condition chooses stands last in 'first_of'"
    for one in first_of(lookup):
        yield from _one(place, one, unit, data)


def _one(place: str, one: Lookup, unit: str, data: Data) -> Iterator[str]:
    word = word_of(one)
    if word is None:
        known = ", ".join((*FIND, "first_of", "by"))
        yield f"{place}: {sorted(one)} is no look-up: write {known}"
    elif word == "by":
        yield from _by(place, one, unit, data)
    else:
        for key in one:
            if key not in (word, *ARGUMENTS[word]):
                allowed = ", ".join((word, *ARGUMENTS[word]))
                yield f"{place}, {word}: '{key}' is not known: write {allowed}"
        yield from _argument(f"{place}, {word}", word, one, unit, data)


def _by(place: str, one: Lookup, unit: str, data: Data) -> Iterator[str]:
    known = choices(data, one["by"])
    if known is None:
        yield f"{place}, by: '{one['by']}' is not asked for"
        return
    for word in words_of(one):
        if word not in known:
            yield f"{place}, by: '{word}' is none of {', '.join(known)}"
        yield from figure_faults(f"{place}, {word}", one[word], unit, data)


def _argument(
    place: str, word: str, one: Lookup, unit: str, data: Data
) -> Iterator[str]:
    if word in ("least_of", "product", "quotient"):
        for part in one[word]:
            yield from _one(place, part, "", data)
    elif word == "given":
        names = [each.get("name") for each in data.get("gives", ())]
        if one["given"] not in names:
            yield f"{place}: '{one['given']}' is not among what 'gives' lists"
    elif word == "table":
        if "as" in one and one["as"] not in AS:
            yield f"{place}: '{one['as']}' is none of {', '.join(AS)}"
        rows = ("row", "match", "at_or_above", "each")
        if len(set(rows) & set(one)) != 1:
            yield f"{place}: write one of {', '.join(map(repr, rows))}"
        for name in one.get("each", ()):
            if name not in asked(data):
                yield f"{place}, each: '{name}' is not asked for"
    else:
        yield from _field(place, one[word], word, unit, data)


def _field(place: str, name: str, word: str, unit: str, data: Data) -> Iterator[str]:
    listed = "columns" if word == "column" else "rests_on"
    about = find_field(name)
    if name not in data.get(listed, ()) or about is None:
        yield f"{place}: '{name}' does not stand in '{listed}'"
        return
    if about.unit_of or not unit:
        return
    fits = {about.unit, unit} <= set(UNITS)
    if about.unit != unit and not (
        fits and UNITS[about.unit].quantity == UNITS[unit].quantity
    ):
        yield f"{place}: '{name}' is in '{about.unit}', which does not fit '{unit}'"


def tables_wanted(data: Data) -> Iterator[tuple[str, Lookup]]:
    """Yield each look-up in a table, with the place in the file where it stands."""
    for key in ("gate", "bound"):
        for number, part in enumerate(data.get(key, ()), start=1):
            for value in part.values():
                yield from ((f"{key} {number}", one) for one in _within(value))


def _within(value: Any) -> Iterator[Lookup]:
    if isinstance(value, list):
        for one in value:
            yield from _within(one)
    elif isinstance(value, Mapping):
        if "table" in value:
            yield value
        for one in value.values():
            yield from _within(one)
