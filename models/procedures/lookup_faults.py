"""What is wrong with a look-up of a declared procedure, and which tables it wants."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.fields import find_field
from models.judging.quantities import UNITS
from models.procedures.file_words import asked, choices_of
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
CHANGED = ("times", "plus")
ARGUMENTS: Mapping[str, tuple[str, ...]] = {
    "given": ("as", *CHANGED),
    "column": (),
    "baseline": (),
    "plate": CHANGED,
    "setting": CHANGED,
    "site": CHANGED,
    "table": (
        "column",
        "column_by",
        "row",
        "row_by",
        "match",
        "at_or_above",
        "each",
        "otherwise",
        "as",
        "unit",
        *CHANGED,
    ),
    "least_of": CHANGED,
    "product": CHANGED,
    "quotient": CHANGED,
    "missing": (),
}
ROWS = ("row", "row_by", "match", "at_or_above", "each")
COLUMNS = ("column", "column_by")


def figure_faults(place: str, lookup: Any, unit: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with the figure that is looked up in *unit*."""
    if not isinstance(lookup, Mapping) or not lookup:
        yield f"{place}: a figure is looked up: write {{ plate = ... }}, say"
        return
    if "first_of" in lookup:
        for key in lookup:
            if key not in ("first_of", "missing"):
                yield f"{place}: '{key}' is not known beside 'first_of'"
        chosen = ["by" in one or "each" in one for one in lookup["first_of"]]
        if chosen != sorted(chosen):
            yield f"{place}: what is chosen 'by' a condition stands last in 'first_of'"
    for one in first_of(lookup):
        yield from _one(place, one, unit, data)


def _one(place: str, one: Lookup, unit: str, data: Data) -> Iterator[str]:
    word = word_of(one)
    if word is None:
        known = ", ".join((*FIND, "first_of", "by"))
        yield f"{place}: {sorted(one)} is no look-up: write {known}"
    elif word == "first_of":
        yield f"{place}: 'first_of' stands at the beginning of a look-up"
    elif word == "by":
        yield from _by(place, one, unit, data)
    else:
        allowed = (word, *ARGUMENTS[word], "missing", ONLY)
        for key in (key for key in one if key not in allowed):
            known = ", ".join(allowed)
            yield f"{place}, {word}: '{key}' is not known: write {known}"
        yield from only_faults(f"{place}, {ONLY}", one.get(ONLY, {}), data)
        yield from _argument(f"{place}, {word}", word, one, unit, data)


def only_faults(place: str, only: Any, data: Data) -> Iterator[str]:
    """Yield what is wrong with the words of the nameplate under which this holds."""
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
    known = known or choices_of(data, one["by"])
    if known is None:
        yield f"{place}, by: '{one['by']}' is not asked for, and no point fixes it"
        return
    for word in words_of(one):
        if word not in known:
            yield f"{place}, by: '{word}' is none of {', '.join(known)}"
        yield from figure_faults(f"{place}, {word}", one[word], unit, data)


def _argument(
    place: str, word: str, one: Lookup, unit: str, data: Data
) -> Iterator[str]:
    said = one[word]
    if word in ("least_of", "product", "quotient"):
        yield from _parts(place, said, data)
    elif word == "given":
        names = [each.get("name") for each in data.get("gives", ())]
        if said not in names:
            yield f"{place}: '{said}' is not among what 'gives' lists"
        yield from _taken(place, one)
    elif word == "baseline":
        if said is not True:
            yield f"{place}: write baseline = true"
    elif word == "table":
        yield from _table(place, one, data)
    elif word == "missing":
        if not isinstance(said, str):
            yield f"{place}: write the reason as a text"
    else:
        yield from _field(place, said, word, unit, data)


def _parts(place: str, parts: Any, data: Data) -> Iterator[str]:
    if not isinstance(parts, list) or len(parts) < 2:
        yield f"{place}: write a list of two or more look-ups"
        return
    for part in parts:
        yield from _one(place, part, "", data)
        if word_of(part) == "column":
            yield f"{place}: a column of a readings file cannot be a part"


def _taken(place: str, one: Lookup) -> Iterator[str]:
    if "as" in one and one["as"] not in AS:
        yield f"{place}: '{one['as']}' is none of {', '.join(AS)}"


def _table(place: str, one: Lookup, data: Data) -> Iterator[str]:
    yield from _taken(place, one)
    for words in (ROWS, COLUMNS):
        if len(set(words) & set(one)) != 1:
            yield f"{place}: write one of {', '.join(map(repr, words))}"
    for name in one.get("each", ()):
        if name not in asked(data):
            yield f"{place}, each: '{name}' is not asked for"
    for key in ("row_by", "column_by"):
        if key in one:
            yield from _chosen(f"{place}, {key}", one[key], data)


def _chosen(place: str, by: Any, data: Data) -> Iterator[str]:
    """Yield what is wrong with the field that chooses a row or a column."""
    name = by if isinstance(by, str) else by.get("field", "")
    about = find_field(name)
    if name not in data.get("rests_on", ()) or about is None:
        yield f"{place}: '{name}' does not stand in 'rests_on'"
    elif not isinstance(by, str):
        for word in by:
            if word != "field" and about.choices and word not in about.choices:
                yield f"{place}: '{word}' is none of {', '.join(about.choices)}"


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
    for key in ("gate", "derive", "bound"):
        for number, part in enumerate(data.get(key, ()), start=1):
            for value in part.values():
                yield from ((f"{key} {number}", one) for one in _within(value))
    yield from (("correction", one) for one in _within(data.get("correction", {})))
    for given in data.get("gives", ()):
        if "suggested" in given:
            said = {**given["suggested"], "unit": given["units"][0]}
            yield f"gives, {given['name']}, suggested", said


def _within(value: Any) -> Iterator[Lookup]:
    if isinstance(value, list):
        for one in value:
            yield from _within(one)
    elif isinstance(value, Mapping):
        if "table" in value:
            yield value
        for one in value.values():
            yield from _within(one)
