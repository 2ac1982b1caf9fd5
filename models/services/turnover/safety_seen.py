"""Standings of safety for people: lines with their wording, fields by their labels."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from models.record.shapes.safety import (
    LineStanding,
    RegisterItem,
    SafetyBook,
    ScopeStanding,
)

Said = list[tuple[str, str]]  # label and value
# What the program itself asks for, and an override sets aside.
CONDITIONS = {
    "HV4": "Insulation of the same parts was found good first.",
    "HV6": "Gas density of this shift was read in every cell of the bus.",
}
HELD = ("given", "not_applicable", "overridden")
# Where a scope holds a register -> the register, and the fields that name its items.
REGISTERS = {
    "sets": ("set", ("name", "serial")),
    "places": ("place", ("name", "place_kind")),
    "sources": ("source", ("name", "isolating_point", "source_kind")),
    "grounds": ("ground", ("number", "place", "ground_kind")),
    "put_back": ("put_back", ("what", "put_back_kind")),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LineSeen:
    """A line that is asked for, as it stands, with what was noted."""

    code: str
    text: str
    source: str
    about: str  # which of a register, or who
    state: str
    by: str | None
    at: str | None
    reason: str | None
    noted: Said
    lapsed_why: str
    lapsed_at: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeSeen:
    """A scope as it stands: *why* it lapsed in words, *open* counts its open lines."""

    state: str
    since: str | None
    by: str | None
    why: str
    at: str | None
    lines: list[LineSeen]

    @property
    def open(self) -> int:
        """How many lines are open or have lapsed."""
        return sum(line.state not in HELD for line in self.lines)

    @property
    def held(self) -> int:
        """How many lines stand."""
        return len(self.lines) - self.open

    def noted(self, code: str, label: str = "") -> str:
        """Return what is noted with the line *code*, of one field or of all."""
        found = [v for one in self.lines if one.code == code for v in _of(one, label)]
        return ", ".join(dict.fromkeys(found))


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemSeen:
    """An item of a register: its name, its other fields, and what its lines note."""

    name: str
    fields: dict[str, str]  # by the name of the field
    by: str
    at: str
    off_for: str  # the card for which it is off, in words
    gone: bool
    back_by: str | None
    back_at: str | None
    torque: str

    def said(self, *names: str) -> str:
        """Return these of its fields, those that are filled, one after the other."""
        return " · ".join(self.fields[name] for name in names if name in self.fields)


class Seen:
    """Says what stands on a site in the words of its book."""

    def __init__(
        self,
        book: SafetyBook,
        site: Mapping[str, Any],
        cards: Mapping[str, str],
        zone: ZoneInfo,
    ) -> None:
        """*site*: a SiteStanding; *cards*: card id -> its name for people."""
        self.book, self.zone = book, zone
        self.names: dict[str, str] = {**cards}
        for lineup_id, lineup in book["lineups"].items():
            self.names[lineup_id] = lineup["name"]
            for cell_id, cell in lineup["cells"].items():
                self.names[cell_id] = f"cell {cell['number']}"
        for scope in (*site["crews"], *site["isolations"]):
            self.names |= {one["key"]: one["name"] for one in scope["people"]}
            for held in REGISTERS:
                for item in scope.get(held, ()):
                    self.names[item["item"]] = item_name(held, item["fields"])

    def scope(self, standing: ScopeStanding) -> ScopeSeen:
        """Return a scope for people."""
        return ScopeSeen(
            state=standing["state"],
            since=standing["since"],
            by=standing["by"],
            why=self.change(standing["cause"]),
            at=standing["at"],
            lines=[self.line(line) for line in standing["lines"]],
        )

    def line(self, line: LineStanding) -> LineSeen:
        """Return a line for people."""
        return LineSeen(
            code=line["code"],
            text=self.wording(line["code"]),
            source=self.source(line["code"]),
            about=self.names.get(line["item"] or "", ""),
            state=line["state"],
            by=line["by"],
            at=line["at"],
            reason=line["reason"],
            noted=self.noted(line["noted"]),
            lapsed_why=self.change(line["lapsed_by"]),
            lapsed_at=line["lapsed_at"],
        )

    def wording(self, code: str) -> str:
        """Return the wording of a line, or what a condition of the program asks."""
        known = self.book["lines"].get(code)
        return known["text"] if known else CONDITIONS.get(code, "")

    def source(self, code: str) -> str:
        """Return where a line comes from; '' for a condition of the program."""
        known = self.book["lines"].get(code)
        return known["source"] if known else ""

    def change(self, word: str | None) -> str:
        """Return a change word for people; '' for none."""
        return self.book["changes"].get(word, word) if word else ""

    def noted(self, noted: Mapping[str, Any]) -> Said:
        """Return what was noted, label and value."""
        return [
            (self.label(name), self.value(name, value))
            for name, value in noted.items()
            if value not in (None, "", [])
        ]

    def value(self, name: str, value: Any) -> str:
        """Return one value for people, by the kind of its field."""
        field = self.book["fields"].get(name)
        kind = field["kind"] if field else "text"
        if kind == "time":
            return f"{datetime.fromisoformat(value).astimezone(self.zone):%H:%M}"
        if kind == "person":
            return str(value["name"])
        if kind == "people":
            return ", ".join(one["name"] for one in value)
        if kind == "grounds":
            return ", ".join(self.names.get(one, one) for one in value)
        if kind == "cell":
            return self.names.get(str(value), str(value))
        unit = field["unit"] if field else None
        said = f"{value:g}" if isinstance(value, float) else str(value)
        return f"{said} {unit}" if unit else said.replace("_", " ")

    def items(self, held: str, scope: Mapping[str, Any]) -> list[ItemSeen]:
        """Return the items of a register of *scope*; *held*: a key of REGISTERS."""
        return [self._item(held, item, scope["lines"]) for item in scope[held]]

    def _item(
        self, held: str, item: RegisterItem, lines: Iterable[LineStanding]
    ) -> ItemSeen:
        noted = [line["noted"] for line in lines if line["item"] == item["item"]]
        back, name = item["back"] or {}, item_name(held, item["fields"])
        fields = {
            key: self.value(key, value)
            for values in (item["fields"], *noted)
            for key, value in values.items()
            if key != "gone" and value not in (None, "", [])
        }
        return ItemSeen(
            name=name,
            fields={key: said for key, said in fields.items() if said != name},
            by=item["by"],
            at=item["at"],
            off_for=self.names.get(item["off_for"] or "", item["off_for"] or ""),
            gone=bool(item["fields"].get("gone")),
            back_by=back.get("by"),
            back_at=back.get("at"),
            torque=str(back.get("torque") or ""),
        )

    def label(self, name: str) -> str:
        """Return what a field is called."""
        field = self.book["fields"].get(name)
        return field["label"] if field else name.replace("_", " ")


def item_name(held: str, fields: Mapping[str, Any]) -> str:
    """Return which item it is: the first of its naming fields that is filled."""
    register, naming = REGISTERS[held]
    found = (fields.get(name) for name in naming)
    return str(next((one for one in found if one), register)).replace("_", " ")


def _of(line: LineSeen, label: str) -> list[str]:
    return [value for name, value in line.noted if not label or name == label]
