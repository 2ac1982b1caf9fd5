"""What is wrong with a look-up of a declared procedure, and which tables it wants."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.fields import find_field
from models.judging.quantities import UNITS
from models.procedures.lookups import (
    AS,
    FIND,
    ONLY,
    Lookup,
    first_of,
    word_of,
    words_of,
)

Data = Mapping[str, Any]
ARGUMENTS: Mapping[str, tuple[str, ...]] = {
    "given": (),
    "column": (),
    "plate": ("times", "plus"),
    "setting": ("times", "plus"),
    "site": ("times", "plus"),
    "table": ("column", "row", "row_by", "match", "at_or_above", "as", "unit"),
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
        chosen = [bool(words_of(one)) for one in lookup["first_of"]]
        if any(chosen[:-1]):
            yield f"{place}: what is chosen 'by' a condition stands last in 'first_of'"
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
        known = (word, *ARGUMENTS[word], ONLY)
        for key in one:
            if key not in known:
                yield f"{place}, {word}: '{key}' is not known: write {', '.join(known)}"
        yield from _only(f"{place}, {ONLY}", one.get(ONLY, {}), data)
        yield from _argument(f"{place}, {word}", word, one, unit, data)


def _only(place: str, only: Any, data: Data) -> Iterator[str]:
    for name, words in only.items():
        about = find_field(name)
        if name not in data.get("rests_on", ()) or about is None:
            yield f"{place}: '{name}' does not stand in 'rests_on'"
            continue
        for word in words:
            if word not in ("", *about.choices):
                known = ", ".join(about.choices)
                yield f"{place}, {name}: '{word}' is none of {known}, or nothing"


def _by(place: str, one: Lookup, unit: str, data: Data) -> Iterator[str]:
    known = data["points"].get("by", {}).get(one["by"])
    if known is None:
        yield f"{place}, by: no point fixes '{one['by']}'"
        return
    for word in words_of(one):
        if word not in known:
            yield f"{place}, by: '{word}' is none of {', '.join(known)}"
        yield from figure_faults(f"{place}, {word}", one[word], unit, data)


def _argument(
    place: str, word: str, one: Lookup, unit: str, data: Data
) -> Iterator[str]:
    if word in ("product", "quotient"):
        for part in one[word]:
            yield from _one(place, part, "", data)
    elif word == "given":
        names = [each.get("name") for each in data.get("gives", ())]
        if one["given"] not in names:
            yield f"{place}: '{one['given']}' is not among what 'gives' lists"
    elif word == "table":
        if "as" in one and one["as"] not in AS:
            yield f"{place}: '{one['as']}' is none of {', '.join(AS)}"
        if len({"row", "row_by", "match", "at_or_above"} & set(one)) != 1:
            yield f"{place}: write one of 'row', 'row_by', 'match', 'at_or_above'"
        if "row_by" in one:
            yield from _field(place, one["row_by"], "plate", "", data)
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
