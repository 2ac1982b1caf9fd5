"""Look-ups of a declared procedure: where a figure comes from, with its source.

They are spent on the server when a rule is compiled; a rule holds what they found.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from math import prod
from operator import truediv
from typing import Any

from models.fields import Field, field
from models.fields.values import YES_NO
from models.judging import Criteria, Table
from models.judging.near import near
from models.judging.quantities import UNITS, convert
from models.judging.tables import MAKER
from models.procedures import precedence
from models.procedures.precedence import Claim, as_set
from models.procedures.procedure import Givable
from models.procedures.subject import Subject

Lookup = Mapping[str, Any]
When = Mapping[str, Any]

AS: Mapping[str, Callable[[float], float]] = {
    "one_plus_pct": lambda pct: 1 + pct / 100,
    "one_minus_pct": lambda pct: 1 - pct / 100,
    "of_class": float,
    "pct_above_one": lambda factor: round(100 * (factor - 1), 9),
    "share": lambda pct: pct / 100,
}
ONLY = "only"  # the nameplate's words under which a look-up yields; blank: ""


@dataclass(frozen=True, slots=True)
class Place:
    """For what a figure is looked up, and in which unit it is wanted.

    *says* is what the figure is called where another goes before it.
    """

    subject: Subject
    criteria: Criteria
    givable: Mapping[str, Givable]
    unit: str

    @property
    def says(self) -> Givable:
        """Return a quantity in the unit that is wanted."""
        return Givable(name="", title="", side="", units=(self.unit,))


def is_lookup(said: Any) -> bool:
    """Return whether *said* looks a figure up, rather than saying it."""
    return isinstance(said, Mapping) and "on" not in said and word_of(said) is not None


def figures(lookup: Lookup, at: Place) -> Iterator[tuple[When, Claim]]:
    """Yield what decides, with the condition under which it does.

    What holds under every condition goes before what a condition chooses.
    """
    found = precedence.decides(_claims(lookup, at))
    if found is not None:
        yield {}, found
        return
    seen: list[When] = []
    for one in first_of(lookup):
        for when, claim in _chosen_by(one, at):
            if when not in seen:
                seen.append(when)
                yield when, claim


def _chosen_by(one: Lookup, at: Place) -> Iterator[tuple[When, Claim]]:
    """Yield what a condition chooses: a branch of `by`, or a row of a table."""
    if "each" in one:
        yield from _each_row(one, at)
    for word in words_of(one):
        for when, claim in figures(one[word], at):
            yield {one["by"]: YES_NO.get(word, word), **when}, claim


def _each_row(one: Lookup, at: Place) -> Iterator[tuple[When, Claim]]:
    table = at.criteria.table(one["table"])
    ((condition, column),) = one["each"].items()
    for row in table.rows:
        if one["column"] in row:
            yield {condition: row[column]}, _of_row(one, table, row, at)


def others(lookup: Lookup, at: Place) -> Iterator[tuple[When, str, list[Any], str]]:
    """Yield when a condition has to be one of these, and the reason where it is not.

    That is the condition by which a figure is chosen, where the look-up says with
    `otherwise` what another value means; nothing where a figure holds under every one.
    """
    if precedence.decides(_claims(lookup, at)) is not None:
        return
    for one in first_of(lookup):
        on = one.get("by") or next(iter(one.get("each", ())), None)
        if on is not None and "otherwise" in one:
            known = dict.fromkeys(when[on] for when, _ in _chosen_by(one, at))
            if known:  # what gives a reason of its own is said by `absences`
                said = [word for word in words_of(one) if "missing" in one[word]]
                known |= dict.fromkeys(YES_NO.get(word, word) for word in said)
                yield {}, on, list(known), one["otherwise"]
        for word in words_of(one):
            for when, name, found, why in others(one[word], at):
                yield {one["by"]: YES_NO.get(word, word), **when}, name, found, why


def absences(lookup: Lookup, at: Place) -> Iterator[tuple[When, str]]:
    """Yield the reason that a look-up gives for what it does not find, and when."""
    found = [when for when, _ in figures(lookup, at)]
    if {} in found:
        return
    one = first_of(lookup)[-1]
    reason = lookup.get("missing", one.get("missing"))
    if "by" not in one:
        if reason is not None:
            yield {}, reason
        return
    for word in words_of(one):
        why = one[word].get("missing", reason)
        is_found = any(when[one["by"]] == YES_NO.get(word, word) for when in found)
        if why is not None and not is_found:
            yield {one["by"]: word}, why


def first_of(lookup: Lookup) -> Sequence[Lookup]:
    """Return the look-ups of which the first that yields decides."""
    found: Sequence[Lookup] = lookup.get("first_of", (lookup,))
    return found


def word_of(lookup: Lookup) -> str | None:
    """Return the word of a look-up: what it takes its figure from."""
    known = ("first_of", "by", *FIND)
    return next((word for word in known if word in lookup), None)


def words_of(lookup: Lookup) -> list[str]:
    """Return the values of the condition that chooses; none where none does."""
    if "by" not in lookup:
        return []
    return [word for word in lookup if word not in ("by", "missing", "otherwise")]


def _claims(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    for one in first_of(lookup):
        chosen = "by" in one or "each" in one
        find = None if chosen else FIND.get(word_of(one) or "")
        if find is not None and holds(one, at.subject):
            yield from find(one, at)


def holds(lookup: Lookup, subject: Subject) -> bool:
    """Return whether the nameplate says what the look-up, or the bound, is for."""
    wanted = lookup.get(ONLY, {}).items()
    return all((subject.word(name) or "") in words for name, words in wanted)


def _given(lookup: Lookup, at: Place) -> Iterator[Claim]:
    for claim in precedence.given(at.subject, at.givable[lookup["given"]]):
        taken = AS[lookup["as"]](claim.value) if "as" in lookup else claim.value
        yield replace(claim, value=_changed(taken, lookup))


def _column(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    value = at.subject.column(lookup["column"], at.unit)
    yield precedence.on_nameplate(at.says, value)


def _field(word: str) -> Callable[[Lookup, Place], Iterator[Claim | None]]:
    def find(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
        about, value = field(lookup[word]), at.subject.number(lookup[word])
        own = _unit_of(about, at.subject)
        unit = at.unit or own
        if value is not None and about.unit_of and not _fits(own, unit):
            return
        if value is not None:
            value = in_unit(_changed(value, lookup), own, unit)
        line = about.label[:1].lower() + about.label[1:]
        claim = as_set if word == "setting" else precedence.on_nameplate
        yield claim(replace(at, unit=unit).says, value, line)

    return find


def _unit_of(about: Field, subject: Subject) -> str:
    """Return the unit of a field; one that is chosen beside it has that unit."""
    return (subject.word(about.unit_of) or "") if about.unit_of else about.unit


def _fits(unit: str, wanted: str) -> bool:
    known = {unit, wanted} <= set(UNITS)
    return known and UNITS[unit].quantity == UNITS[wanted].quantity


def _changed(value: float, lookup: Lookup) -> float:
    """Return the figure times `times`, and `plus` more, where the look-up says so."""
    changed: float = value * lookup.get("times", 1.0) + lookup.get("plus", 0.0)
    return changed


def _baseline(_lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    known = at.subject.baseline
    if known is not None:
        value = in_unit(known.value, known.unit, at.unit)
        cite = {**MAKER, "document": "Baseline of this point", "edition": known.round}
        yield precedence.tabled(at.says, value, {**cite, "provenance": "computed"})


def _table(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    table = at.criteria.table(lookup["table"])
    row = _row(lookup, table, at.subject)
    column = column_of(lookup, at.subject)
    if row is not None and column is not None and column in row:
        yield _of_row(lookup, table, row, at)


def _of_row(lookup: Lookup, table: Table, row: Mapping[str, Any], at: Place) -> Claim:
    column = column_of(lookup, at.subject)
    assert column is not None
    value = row[column]
    if "as" in lookup:
        value = AS[lookup["as"]](value)
    elif "unit" in lookup:
        value = in_unit(value, lookup["unit"], at.unit)
    says = replace(at, unit=at.unit or lookup.get("unit", "")).says
    cite = table.cite_value(row, column)
    return precedence.tabled(says, _changed(value, lookup), cite)


def _row(lookup: Lookup, table: Table, subject: Subject) -> Mapping[str, Any] | None:
    if "row" in lookup:
        return table.find(lambda row: row["row"] == lookup["row"])
    if "row_by" in lookup:
        name = _row_name(lookup["row_by"], subject)
        return table.find(lambda row: row["row"] == name)
    if "match" in lookup:
        wanted = lookup["match"].items()
        return table.find(
            lambda row: all(_same(row.get(c), subject.fields.get(f)) for c, f in wanted)
        )
    ((column, name),) = lookup["at_or_above"].items()
    least = subject.number(name)
    if least is None:
        return None
    # The last row of a table that ends in "and above" has nothing in this column.
    return table.find(lambda row: column not in row or _reaches(row[column], least))


def _reaches(value: float, least: float) -> bool:
    return value >= least or near(value, least)


def _row_name(by: str | Mapping[str, str], subject: Subject) -> str | None:
    """Return the row that a field chooses, named as its choice is said.

    The nominal voltage 125_v_dc is the row 125 V dc.
    """
    chosen = _chosen(by, subject)
    if chosen is None or not isinstance(by, str):
        return chosen
    return field(by).choice_words(chosen)


def column_of(lookup: Lookup, subject: Subject) -> str | None:
    """Return the column that is named, or that a field chooses; None: not given."""
    return lookup.get("column") or _chosen(lookup["column_by"], subject)


def fields_of(said: Any) -> Iterator[str]:
    """Yield the fields of nameplate, setting and site that a look-up rests on."""
    if isinstance(said, Mapping):
        for word, value in said.items():
            if word in ("plate", "setting", "site"):
                yield value
            else:
                yield from fields_of(value)
    elif isinstance(said, list):
        for one in said:
            yield from fields_of(one)


def found_words(said: Any) -> Iterator[str]:
    """Yield every key within what a file says of a figure."""
    if isinstance(said, Mapping):
        for word, value in said.items():
            yield word
            yield from found_words(value)
    elif isinstance(said, list):
        for one in said:
            yield from found_words(one)


def _chosen(by: str | Mapping[str, str], subject: Subject) -> str | None:
    """Return the row or the column that a field chooses; None: it is not given.

    The field's value itself, or what `by` has for it.
    """
    if isinstance(by, str):
        return subject.word(by)
    return by.get(subject.word(by["field"]) or "")


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, str) or isinstance(other, str) or None in (one, other):
        return bool(one == other and one is not None)
    return near(float(one), float(other))


SAID_OF = {"least_of": "the least"}  # of a word that is no noun


def _worked_out(
    word: str, work: Callable[[list[float]], float]
) -> Callable[[Lookup, Place], Iterator[Claim | None]]:
    """Return a look-up of others; it is cited as the first, and says them all."""

    def find(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
        # What is multiplied is taken in its own unit; what is compared, in that of all.
        own = at if word == "least_of" else replace(at, unit="")
        parts = [precedence.decides(_claims(one, own)) for one in lookup[word]]
        known = [part for part in parts if part is not None]
        if len(known) < len(parts):
            return
        said = " and ".join(part.said for part in known)
        note = f"{SAID_OF.get(word, word)} of {said}"
        if word == "product" and len({part.said for part in known}) < len(known) == 2:
            note = f"square of {known[0].said}"
        value = _changed(work([part.value for part in known]), lookup)
        cite = {**known[0].cite, "note": note}
        yield Claim(value=value, cite=cite, said=f"the {note.removeprefix('the ')}")

    return find


def in_unit(value: float, unit: str, to: str) -> float:
    """Return a figure in the unit *to*; a unit that the judging has none of is kept."""
    return convert(value, unit, to) if unit in UNITS and to in UNITS else value


FIND: Mapping[str, Callable[[Lookup, Place], Iterator[Claim | None]]] = {
    "given": _given,
    "table": _table,
    "column": _column,
    "plate": _field("plate"),
    "setting": _field("setting"),
    "site": _field("site"),
    "least_of": _worked_out("least_of", min),
    "product": _worked_out("product", prod),
    "quotient": _worked_out("quotient", lambda parts: reduce(truediv, parts)),
    "baseline": _baseline,
    "missing": lambda _lookup, _at: iter(()),  # nothing but the reason why
}
