"""Look-ups of a declared procedure: where a figure comes from, with its source.

They are spent on the server when a rule is compiled; a rule holds what they found.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import prod
from typing import Any

from models.fields import field
from models.fields.values import YES_NO
from models.judging import Criteria, Table
from models.judging.near import near
from models.judging.quantities import UNITS, convert
from models.procedures import precedence
from models.procedures.precedence import Claim
from models.procedures.procedure import Givable
from models.procedures.subject import Subject

Lookup = Mapping[str, Any]
When = Mapping[str, Any]

AS: Mapping[str, Callable[[float], float]] = {
    "one_plus_pct": lambda pct: 1 + pct / 100,
    "one_minus_pct": lambda pct: 1 - pct / 100,
    "of_class": float,
}


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


def figures(lookup: Lookup, at: Place) -> Iterator[tuple[When, Claim]]:
    """Yield what decides, with the condition under which it does.

    What holds under every condition goes before what a condition chooses.
    """
    found = precedence.decides(claims(lookup, at))
    if found is not None:
        yield {}, found
        return
    seen: list[When] = []
    for one in first_of(lookup):
        for when, claim in chosen(one, at):
            if when not in seen:
                seen.append(when)
                yield when, claim


def chosen(one: Lookup, at: Place) -> Iterator[tuple[When, Claim]]:
    """Yield what a condition chooses: a branch of `by`, or a row of a table."""
    if "each" in one:
        yield from _each_row(one, at)
    for word in words_of(one):
        for when, claim in figures(one[word], at):
            yield {one["by"]: said_of(word), **when}, claim


def said_of(word: str) -> Any:
    """Return the value of a condition that a word of `by` stands for."""
    return YES_NO.get(word, word)


def _each_row(one: Lookup, at: Place) -> Iterator[tuple[When, Claim]]:
    table = at.criteria.table(one["table"])
    ((condition, column),) = one["each"].items()
    for row in table.rows:
        if one["column"] in row:
            yield {condition: row[column]}, _of_row(one, table, row, at)


def first_of(lookup: Lookup) -> Sequence[Lookup]:
    """Return the look-ups of which the first that yields decides."""
    found: Sequence[Lookup] = lookup.get("first_of", (lookup,))
    return found


def every(lookup: Lookup) -> Iterator[Lookup]:
    """Yield every look-up that may yield, those that a condition chooses too."""
    for one in first_of(lookup):
        yield one
        for word in words_of(one):
            yield from every(one[word])


def word_of(lookup: Lookup) -> str | None:
    """Return the word of a look-up: what it takes its figure from."""
    return next((word for word in (*FIND, "by") if word in lookup), None)


def words_of(lookup: Lookup) -> list[str]:
    """Return the values of the condition that chooses; none where none does."""
    if "by" not in lookup:
        return []
    return [word for word in lookup if word not in ("by", "missing")]


def claims(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    """Yield what may decide under every condition, the first to decide first."""
    for one in first_of(lookup):
        find = FIND.get(word_of(one) or "")
        if find is not None and "each" not in one:
            yield from find(one, at)


def _given(lookup: Lookup, at: Place) -> Iterator[Claim]:
    yield from precedence.given(at.subject, at.givable[lookup["given"]])


def _column(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    value = at.subject.column(lookup["column"], at.unit)
    yield precedence.on_nameplate(at.says, value)


def _field(word: str) -> Callable[[Lookup, Place], Iterator[Claim | None]]:
    def find(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
        about, value = field(lookup[word]), at.subject.number(lookup[word])
        if value is not None:
            value = value * lookup.get("times", 1.0) + lookup.get("plus", 0.0)
            value = in_unit(value, about.unit, at.unit)
        line = about.label[:1].lower() + about.label[1:]
        yield precedence.on_nameplate(at.says, value, line)

    return find


def _table(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
    table = at.criteria.table(lookup["table"])
    row = _row(lookup, table, at.subject)
    if row is not None and lookup["column"] in row:
        yield _of_row(lookup, table, row, at)


def _of_row(lookup: Lookup, table: Table, row: Mapping[str, Any], at: Place) -> Claim:
    value = row[lookup["column"]]
    if "as" in lookup:
        value = AS[lookup["as"]](value)
    elif "unit" in lookup:
        value = in_unit(value, lookup["unit"], at.unit)
    return precedence.tabled(at.says, value, table.cite_value(row, lookup["column"]))


def _row(lookup: Lookup, table: Table, subject: Subject) -> Mapping[str, Any] | None:
    if "row" in lookup:
        return table.find(lambda row: row["row"] == lookup["row"])
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


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, str) or isinstance(other, str) or None in (one, other):
        return bool(one == other and one is not None)
    return near(float(one), float(other))


WORKED_OUT = {"least_of": "the least"}  # what is said of a word that is no noun


def _worked_out(
    word: str, work: Callable[[list[float]], float]
) -> Callable[[Lookup, Place], Iterator[Claim | None]]:
    """Return a look-up of two others; it is cited as the first, and says both."""

    def find(lookup: Lookup, at: Place) -> Iterator[Claim | None]:
        parts = [precedence.decides(claims(one, at)) for one in lookup[word]]
        known = [part for part in parts if part is not None]
        if len(known) < len(parts):
            return
        said = " and ".join(part.said for part in known)
        note = f"{WORKED_OUT.get(word, word)} of {said}"
        value = work([part.value for part in known])
        yield precedence.tabled(at.says, value, {**known[0].cite, "note": note})

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
    "quotient": _worked_out("quotient", lambda two: two[0] / two[1]),
}
