"""Tables of the sheet: people, sources, grounds, what is put back; then blank rows."""

from collections.abc import Mapping, Sequence
from typing import TypedDict

from models.record.safety_report.noted import fields_words, value_words
from models.record.safety_report.told import Json, Told

Heads = list[tuple[str, float]]  # with the share of the width


class FormTable(TypedDict):
    """A table: what is on record, and how many blank rows follow."""

    name: str
    said: list[str]  # the wording of the lines that its columns stand for
    heads: Heads
    rows: list[list[str]]
    blank: int


def people_table(
    told: Told,
    name: str,
    standing: Json | None,
    codes: Sequence[str],
    back: Json | None = None,
    off: Sequence[str] = (),
) -> FormTable:
    """Return who signs on, with a column for each line that a person gives.

    *off* are the lines of the return *back*, for which there is a column too.
    """
    people: Mapping[str, str] = {}
    if standing is not None:
        people = {one["key"]: one["name"] for one in standing["people"]}
    heads = [("Name", 2.0), *(_head(told, code) for code in codes)]
    rows = [
        [
            person,
            *(_given(told, standing, code, key) for code in codes),
            "",
            *(_given(told, back, code, key) for code in off),
        ]
        for key, person in people.items()
    ]
    return {
        "name": name,
        "said": wordings(told, [*codes, *off]),
        "heads": [*heads, ("Signature", 2.0), *(_head(told, code) for code in off)],
        "rows": rows,
        "blank": max(2, 4 - len(rows)),
    }


def register_table(
    told: Told,
    name: str,
    register: str,
    items: Sequence[Json],
    standing: Json | None,
    codes: Sequence[str],
    extra: Sequence[tuple[str, float]] = (),
    blank: int = 6,
) -> FormTable:
    """Return a register, with a column for each line that is asked of its items."""
    fields = told.book["registers"].get(register, [])
    labels = [told.book["fields"][field]["label"] for field in fields]
    what = (", ".join(dict.fromkeys(labels)), 3.4)
    rows = [
        [
            _item(told, register, one),
            *(_given(told, standing, code, one["item"]) for code in codes),
            *(_extra(told, head, one) for head, _ in extra),
        ]
        for one in items
    ]
    return {
        "name": name,
        "said": wordings(told, codes),
        "heads": [what, *(_head(told, code) for code in codes), *extra],
        "rows": rows,
        "blank": max(2, blank - len(rows)),
    }


def wordings(told: Told, codes: Sequence[str]) -> list[str]:
    """Return what each column of a table says, code and wording."""
    return [f"{code}  {told.book['lines'][code]['text']}" for code in codes]


def _head(told: Told, code: str) -> tuple[str, float]:
    line = told.book["lines"][code]
    labels = [told.book["fields"][name]["label"] for name in line["fields"]]
    return (f"{code} {', '.join(labels)}".strip(), 1.0 + 0.7 * len(labels))


def _given(told: Told, standing: Json | None, code: str, item: str) -> str:
    """Return what was noted with a line of one item or person, by whom and when."""
    lines = standing["lines"] if standing else ()
    for one in lines:
        if (one["code"], one["item"]) != (code, item) or one["at"] is None:
            continue
        if one["state"] not in ("given", "not_applicable", "overridden"):
            return ""
        fields = told.book["fields"]
        said = [
            value_words(told, fields[name], value, one["at"])
            for name, value in one["noted"].items()
            if name in fields and value not in (None, "", [])
        ]
        return ", ".join((*said, told.clock(one["at"], told.now), one["by"] or ""))
    return ""


def _item(told: Told, register: str, one: Json) -> str:
    words = fields_words(told, register, one["fields"]) or one["item"]
    return f"{words} (taken off the list)" if one["fields"].get("gone") else words


def _extra(told: Told, head: str, one: Json) -> str:
    """Return who put an entry on the list, and who put it back."""
    if head.startswith("Taken"):
        return f"{one['by']}, {told.clock(one['at'], told.now)}"
    back = one.get("back")
    if back is None or not head.startswith("Back"):
        return ""
    torque = f", {back['torque']}" if back.get("torque") else ""
    return f"{back['by']}, {told.clock(back['at'], told.now)}{torque}"
