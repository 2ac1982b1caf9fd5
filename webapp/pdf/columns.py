"""The columns of readings.csv: name, type, unit, meaning, and where each is found."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from models.fields import Field, Kind, fields
from models.fields.units import ucum
from models.procedures import PROCEDURES
from webapp.words.csv_cells import safe_or_number
from webapp.words.sources import source_words

Doc = Mapping[str, Any]
Take = Callable[[Doc, Doc], Any]  # card, reading -> value


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingColumn:
    """One column; *unit* is a UCUM code where it is the same in every row."""

    name: str
    type: str
    description: str
    take: Take
    unit: str = ""

    def described(self) -> dict[str, Any]:
        """Return the column as a field of a table schema."""
        field = {"name": self.name, "type": self.type, "description": self.description}
        return field | ({"unit": self.unit} if self.unit else {})


def row_of(card: Doc, reading: Doc) -> list[str]:
    """Return the row of *reading*; what is not given is empty.

    A text that a spreadsheet took for a formula begins with ': as typed it stands in
    the record beside this file.
    """
    return [
        "" if (v := column.take(card, reading)) is None else safe_or_number(str(v))
        for column in COLUMNS
    ]


def _card(name: str) -> Take:
    return lambda card, reading: card[name]


def _identity(name: str) -> Take:
    """Take what tells the apparatus from its like; older documents have none of it."""
    return lambda card, reading: (card.get("identity") or {}).get(name)


def _reading(name: str) -> Take:
    return lambda card, reading: reading.get(name)


def _judged(name: str) -> Take:
    return lambda card, reading: reading["judgement"].get(name)


def _disposed(name: str) -> Take:
    return lambda card, reading: (reading["disposition"] or {}).get(name)


def _limit_unit(card: Doc, reading: Doc) -> str | None:
    """Return the limits' unit: a withstand's limit is a voltage."""
    judgement = reading["judgement"]
    if judgement["limit_low"] is None and judgement["limit_high"] is None:
        return None
    return str(judgement["corrected_unit"] or "kV")


def _uncertainty_unit(card: Doc, reading: Doc) -> str | None:
    judgement = reading["judgement"]
    return None if judgement["uncertainty"] is None else judgement["corrected_unit"]


def _sources(card: Doc, reading: Doc) -> str:
    return " | ".join(source_words(cite) for cite in reading["judgement"]["cite"])


def _working(card: Doc, reading: Doc) -> str:
    return " | ".join(reading["judgement"]["working"])


def _column(
    name: str, kind: str, description: str, take: Take, unit: str = ""
) -> ReadingColumn:
    return ReadingColumn(
        name=name, type=kind, description=description, take=take, unit=unit
    )


def _asked() -> list[Field]:
    """Return the conditions that a procedure asks for."""
    names = {ask["name"] for one in PROCEDURES.values() for ask in one.asks}
    return [one for one in fields("condition") if one.name in names]


def _condition(about: Field) -> ReadingColumn:
    """Return the column of a condition, described and measured as its field is."""
    return _column(
        about.name,
        "number" if about.kind is Kind.NUMBER else "string",
        f"{about.label}: {about.about}" if about.about else about.label,
        lambda card, reading: reading["conditions"].get(about.name),
        ucum(about.unit),
    )


COLUMNS = (
    _column("reading_id", "string", "Identifier of the reading", _reading("id")),
    _column("sheet", "integer", "Number of the card's sheet", _card("sheet")),
    _column("cell", "string", "Number and name of the cell", _card("cell")),
    _column("apparatus", "string", "What was tested", _card("apparatus")),
    _column("maker", "string", "Who made it", _identity("maker")),
    _column("type", "string", "Its maker's type", _identity("type")),
    _column("serial", "string", "Its serial number", _identity("serial")),
    _column("built_year", "integer", "Year it was built", _identity("built_year")),
    _column("procedure", "string", "The kind of test", _card("procedure")),
    _column("detail", "string", "How it was connected", _card("detail")),
    _column("point", "string", "Where the reading was taken", _reading("point")),
    _column(
        "group",
        "string",
        "Readings of one group are compared with each other",
        _reading("group"),
    ),
    _column(
        "text",
        "string",
        "As typed: a number, >number, <number or an outcome",
        _reading("text"),
    ),
    _column(
        "unit",
        "string",
        "Unit of text and value; empty for an outcome",
        _reading("unit"),
    ),
    _column(
        "value",
        "number",
        "The number typed; of an over-range or under-range reading the bound known",
        _judged("value"),
    ),
    _column("corrected", "number", "Value at 20 degC", _judged("corrected")),
    _column("corrected_unit", "string", "Unit of corrected", _judged("corrected_unit")),
    _column("limit_low", "number", "At least this is wanted", _judged("limit_low")),
    _column("limit_high", "number", "At most this is wanted", _judged("limit_high")),
    _column("limit_unit", "string", "Unit of the limits", _limit_unit),
    _column(
        "uncertainty",
        "number",
        "Expanded uncertainty U of corrected, k = 2",
        _judged("uncertainty"),
    ),
    _column("uncertainty_unit", "string", "Unit of uncertainty", _uncertainty_unit),
    _column(
        "verdict", "string", "within, marginal, outside or unjudged", _judged("verdict")
    ),
    _column("reason", "string", "Why", _judged("reason")),
    *map(_condition, _asked()),
    _column("instrument", "string", "Tag of the instrument", _reading("instrument")),
    _column("by", "string", "Who took the reading", _reading("by")),
    _column("taken_at", "datetime", "When it was taken, UTC", _reading("taken_at")),
    _column(
        "arrived_at",
        "datetime",
        "When it reached the record, UTC",
        _reading("arrived_at"),
    ),
    _column(
        "supersedes",
        "string",
        "The reading whose place it takes",
        _reading("supersedes"),
    ),
    _column(
        "superseded_by",
        "string",
        "The reading that took its place; empty: this one holds",
        _reading("superseded_by"),
    ),
    _column(
        "superseding_reason",
        "string",
        "Why it takes the place of another",
        _reading("reason"),
    ),
    _column("disposition", "string", "The lead's decision", _disposed("decision")),
    _column(
        "disposition_reason",
        "string",
        "The reason given for it",
        _disposed("reason"),
    ),
    _column("disposition_by", "string", "Who decided", _disposed("by")),
    _column("disposition_at", "datetime", "When, UTC", _disposed("at")),
    _column("sources", "string", "Documents, tables and rows applied", _sources),
    _column("working", "string", "The steps to the verdict", _working),
)
