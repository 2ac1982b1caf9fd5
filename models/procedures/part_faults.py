"""What is wrong with a declared gate, derived value, correction or bound."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.fields import find_field
from models.judging import vocabulary
from models.judging.quantities import UNITS
from models.judging.vocabulary import CORRECTED_IN
from models.procedures.file_words import (
    asked,
    choices_of,
    unknown_keys,
    unknown_words,
)
from models.procedures.lookup_faults import figure_faults, only_faults
from models.procedures.lookups import is_lookup, words_of
from models.procedures.words import (
    ANY_BOUND,
    BOUNDS,
    EXPECTATION,
    FACTOR,
    FACTOR_OPTIONS,
    GATE,
    ISOCHOR,
    ISOCHOR_OPTIONS,
    METAL,
)

Data = Mapping[str, Any]
READING = "reading"


def part_faults(data: Data) -> Iterator[str]:
    """Yield what is wrong with each part, in the order of the file's keys."""
    for number, gate in enumerate(data.get("gate", ()), start=1):
        yield from _gate(f"gate {number}", gate, data)
    for number, one in enumerate(data.get("derive", ()), start=1):
        yield from _derive(f"derive {number}", one, data)
    if "correction" in data:
        yield from _correction(data["correction"], data)
    for number, bound in enumerate(data.get("bound", ()), start=1):
        yield from _bound(f"bound {number}", bound, data)


def _named(data: Data) -> list[str]:
    """Return what a part may speak of: the reading, derived values, conditions."""
    return [READING, *(one.get("name", "") for one in data.get("derive", ()))]


def _on(place: str, key: str, name: Any, data: Data) -> Iterator[str]:
    if name not in (*_named(data), *asked(data)):
        known = ", ".join((*asked(data), *_named(data)[1:])) or "nothing"
        yield f"{place}, {key}: '{name}' is not asked for; 'asks' has {known}"


def _when(place: str, part: Data, data: Data) -> Iterator[str]:
    for name, word in part.get("when", {}).items():
        choices = choices_of(data, name)
        if choices is None:
            yield f"{place}, when: '{name}' is not asked for"
        elif choices:
            yield from unknown_words(f"{place}, when {name}", [word], choices)


def _gate(place: str, gate: Data, data: Data) -> Iterator[str]:
    tests = tuple(vocabulary.GATES)
    yield from unknown_keys(place, gate, (*GATE[:1], *tests, *GATE[1:]))
    if "series" not in gate:
        needed = [key for key in ("on", "reason") if key not in gate]
        yield from (f"{place}: '{key}' is missing" for key in needed)
    if "on" in gate:
        yield from _on(place, "on", gate["on"], data)
    if not any(test in gate for test in tests):
        yield f"{place}: it tests nothing: write one of {', '.join(tests)}"
    yield from _when(place, gate, data)
    for key in ("at_least", "at_most"):
        if key in gate and "unit" not in gate:
            yield f"{place}: 'unit' is missing"
        if key in gate:
            unit = gate.get("unit", "")
            yield from figure_faults(f"{place}, {key}", gate[key], unit, data)


def _derive(place: str, one: Data, data: Data) -> Iterator[str]:
    op = one.get("op")
    wrong = list(unknown_words(place, [op or ""], vocabulary.OPS))
    if wrong:
        yield from wrong
        return
    place = f"{place} ({one.get('name', '')})"
    own = (*vocabulary.OPS[str(op)], *vocabulary.OP_OPTIONS.get(str(op), ()))
    yield from unknown_keys(
        place, one, ("name", "op", "when", *own, *vocabulary.DERIVED)
    )
    for key, value in one.items():
        if is_lookup(value):
            yield from figure_faults(f"{place}, {key}", value, "", data)
            if words_of(value) or any(map(words_of, value.get("first_of", ()))):
                yield f"{place}, {key}: no condition may choose it here"
        elif isinstance(value, Mapping) and "on" in value:
            yield from _on(f"{place}, {key}", "on", value["on"], data)
    if "of" in one:
        yield from _on(place, "of", one["of"], data)
    yield from _when(place, one, data)
    sample = {key: 1.0 if is_lookup(value) else value for key, value in one.items()}
    yield from vocabulary.derived_faults([sample])


def _correction(one: Data, data: Data) -> Iterator[str]:
    by = one.get("by", "")
    yield from unknown_words("correction, by", [by], vocabulary.CORRECTIONS)
    own = OWN_CORRECTIONS.get(by)
    if own is None:
        yield from _corrected_by(one, data)
        return
    needed, options = own
    wrong = list(unknown_keys("correction", one, (*needed, *options)))
    wrong += [f"correction: '{key}' is missing" for key in needed if key not in one]
    yield from wrong or _own_correction(one, data)


OWN_CORRECTIONS: Mapping[str, tuple[Sequence[str], Sequence[str]]] = {
    "metal": (METAL, ("reference_c",)),
    "factor": (FACTOR, FACTOR_OPTIONS),
    "isochor": (ISOCHOR, ISOCHOR_OPTIONS),
}


def _own_correction(one: Data, data: Data) -> Iterator[str]:
    if "temperature_c" not in asked(data):
        yield "correction: 'temperature_c' is not asked for"
    if one["by"] == "factor":
        if len({"column", "column_by"} & set(one)) != 1:
            yield "correction: write one of 'column', 'column_by'"
        return
    rule = data.get("unit", {}).get("rule", "")
    if one["by"] == "isochor":
        yield from _isochor(one, rule, data)
        return
    if rule not in UNITS or UNITS[rule].quantity != "resistance":
        yield f"correction, by: 'metal' corrects a resistance, not what is in '{rule}'"
    about = find_field(one["plate"])
    if one["plate"] not in data.get("rests_on", ()) or about is None:
        yield f"correction, plate: '{one['plate']}' does not stand in 'rests_on'"
    else:
        place = "correction, otherwise"
        yield from unknown_words(place, [one["otherwise"]], about.choices)


def _isochor(one: Data, rule: str, data: Data) -> Iterator[str]:
    if rule != CORRECTED_IN["isochor"]:
        yield f"correction, by: 'isochor' works in kPa, not in '{rule}'"
    if one["plate"] not in data.get("rests_on", ()):
        yield f"correction, plate: '{one['plate']}' does not stand in 'rests_on'"
    for key in ("of", "thermometer"):
        if key in one:
            yield from _on("correction", key, one[key], data)


def _corrected_by(one: Data, data: Data) -> Iterator[str]:
    """Yield what is wrong with a correction whose words are those of the rule."""
    for key, value in one.items():
        if is_lookup(value):
            yield from figure_faults(f"correction, {key}", value, "", data)
    sample = {key: 1.0 if is_lookup(value) else value for key, value in one.items()}
    yield from vocabulary.correction_faults(sample, data.get("unit", {}).get("rule"))


def _bound(place: str, bound: Data, data: Data) -> Iterator[str]:
    kind = bound.get("kind", "")
    wrong = list(unknown_words(place, [kind], BOUNDS))
    if wrong:
        yield from wrong
        return
    place, words = f"{place} ({kind})", BOUNDS[kind]
    of = ("of", "unit") if words.of else ()
    known = ("kind", *words.figures, *of, *words.words, *ANY_BOUND[1:])
    yield from unknown_keys(place, bound, known)
    if "of" in bound:
        yield from _on(place, "of", bound["of"], data)
    yield from only_faults(f"{place}, only", bound.get("only", {}), data)
    yield from _when(place, bound, data)
    for key, figure in words.figures.items():
        if key in bound:
            unit = figure.unit or _unit(bound, data)
            yield from _figure(f"{place}, {key}", bound[key], unit, data)
        elif not figure.optional and figure.default is None:
            yield f"{place}: '{key}' is missing"
    if words.one_of and not set(words.one_of) & set(bound):
        yield f"{place}: write one of {', '.join(map(repr, words.one_of))}"
    if data.get("signed") and kind in vocabulary.NOT_SIGNED:
        yield f"{place}: what may be negative has no such comparison"
    for key in ("met", "missed"):
        outcomes: Sequence[str] = bound.get(key, ())
        yield from unknown_words(f"{place}, {key}", outcomes, data.get("outcomes", ()))


def _unit(bound: Data, data: Data) -> str:
    """Return the unit of what a bound compares; empty where it is not known."""
    if "unit" in bound:
        return str(bound["unit"])
    of = bound.get("of", READING)
    derived = {one.get("name"): one for one in data.get("derive", ())}
    if of in derived:
        return str(derived[of].get("unit", ""))
    about = find_field(of)
    if of != READING:
        return about.unit if about else ""
    return str(data.get("unit", {}).get("rule", ""))


def _figure(place: str, said: Any, unit: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with a figure of a bound, or with what is expected.

    Only a tolerance, a time and the share of a band may be typed: a limit is looked up.
    """
    if isinstance(said, int | float) and place.endswith(TYPED):
        return
    if place.endswith(", bands"):
        yield from _bands(place, said, unit, data)
        return
    if not (isinstance(said, Mapping) and "on" in said):
        yield from figure_faults(place, said, unit, data)
        return
    if not place.endswith(("(near), value", "(near_angle), value")):
        yield f"{place}: 'on' is not known here: look the figure up"
    yield from unknown_keys(place, said, EXPECTATION)
    yield from _on(place, "on", said["on"], data)
    for key in ("times", "plus"):
        if key in said and not isinstance(said[key], int | float):
            yield from figure_faults(f"{place}, {key}", said[key], "", data)


def _bands(place: str, said: Any, unit: str, data: Data) -> Iterator[str]:
    """Yield what is wrong with bands: their ends are looked up, the last has none."""
    if not isinstance(said, list) or not said:
        yield f"{place}: write a list of {{ to, verdict, word }}"
        return
    for number, band in enumerate(said, start=1):
        here = f"{place} {number}"
        yield from unknown_keys(here, band, BAND)
        needed = [k for k in BAND[1:] if k not in band]
        yield from (f"{here}: '{key}' is missing" for key in needed)
        yield from unknown_words(here, [band.get("verdict", "")], vocabulary.VERDICTS)
        if "to" in band:
            yield from figure_faults(f"{here}, to", band["to"], unit, data)
        if ("to" in band) == (number == len(said)):
            yield f"{here}: every band but the last has an end 'to'"


BAND = ("to", "verdict", "word")
DERIVE = ("name", "op", "when")
TYPED = (", pct", ", fixed", ", hold_s", ", over_pct")
