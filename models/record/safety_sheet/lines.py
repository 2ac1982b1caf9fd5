"""Lines of the sheet: wording, fields with what was noted, who said it and when."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, TypedDict

from models.record.safety_report.noted import bare_words, item_words
from models.record.safety_report.told import Json, Told


class FormLine(TypedDict):
    """A line to sign; *by* and *at* are empty until somebody gives it.

    `fields`: label, unit, what was noted. `again`: why a line that was given is asked
    again; empty while it counts.
    """

    code: str
    item: str
    text: str
    fields: list[list[str]]
    by: str
    at: str
    again: str


def standing_lines(told: Told, standing: Json, codes: Iterable[str]) -> list[FormLine]:
    """Return the lines of a scope as it stands, those of *codes* only."""
    wanted = set(codes)
    return [_standing(told, one) for one in standing["lines"] if one["code"] in wanted]


def blank_lines(told: Told, codes: Iterable[str]) -> list[FormLine]:
    """Return lines that nobody has given; one of an item has a field for it."""
    return [_blank(told, code) for code in codes]


def _standing(told: Told, one: Json) -> FormLine:
    line = _blank(told, one["code"])
    given = one["state"] in ("given", "not_applicable", "overridden")
    beside = one["at"] or ""
    fields = told.book["fields"]
    names = told.book["lines"][one["code"]]["fields"]
    line["fields"] = [
        _field(told, fields[name], one["noted"].get(name) if given else None, beside)
        for name in names
    ]
    line["item"] = _item(told, one)
    if given:
        line["by"] = one["by"] or ""
        line["at"] = told.clock(one["at"], told.now) if one["at"] else ""
    line["again"] = _again(told, one)
    return line


def _blank(told: Told, code: str) -> FormLine:
    line = told.book["lines"][code]
    fields = told.book["fields"]
    items = (
        [[" or ".join(line["each"]).replace("_", " ").capitalize(), "", ""]]
        if line["each"]
        else []
    )
    return {
        "code": code,
        "item": "",
        "text": line["text"],
        "fields": [
            *items,
            *(_field(told, fields[name], None, "") for name in line["fields"]),
        ],
        "by": "",
        "at": "",
        "again": "",
    }


def _field(told: Told, field: Json, value: Any, at: str) -> list[str]:
    said = "" if value in (None, "", []) else bare_words(told, field, value, at)
    label = field["label"]
    if field["choices"] and not said:
        label = f"{label}: {' / '.join(c.replace('_', ' ') for c in field['choices'])}"
    return [label, field["unit"] or "", said]


def _item(told: Told, one: Json) -> str:
    item = one["item"]
    if not item:
        return ""
    if item in told.book["lineups"]:
        return str(told.book["lineups"][item]["name"])
    for register in told.book["registers"]:
        words = item_words(told, register, item)
        if words != item:
            return words
    return str(item)


def _again(told: Told, one: Json) -> str:
    if one["state"] == "not_applicable":
        return f"Does not apply: {one['reason']}"
    if one["state"] == "overridden":
        return f"Set aside: {one['reason']}"
    if one["state"] != "lapsed":
        return ""
    cause = told.book["changes"].get(one["lapsed_by"], one["lapsed_by"])
    return f"Asked again since {told.clock(one['lapsed_at'], told.now)}: {cause}"


def apart(told: Told, codes: Sequence[str], *kinds: str) -> Iterator[str]:
    """Yield the codes that are asked once for each of *kinds*; without any: the rest.

    The rest are those that no table of people or of a register holds.
    """
    for code in codes:
        each = told.book["lines"][code]["each"]
        if any(kind in each for kind in kinds) or (not kinds and not each):
            yield code
