"""Read a lineup's draft from JSON: every fault at once, by its place.

A place counts from 0, as the JSON does: `cells.3.apparatus.1.plate.rated_kv`. The
sentence names the cell by its number and the field by its label.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any
from uuid import UUID

from models.errors import Fault, InputError
from models.fields import check_value, field, find_field
from models.procedures.plates import LINEUP, apparatus_kinds, cell_kinds, plate_names
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)

MOST_CELLS = 200
MOST_SECTIONS = 20
MOST_IN_A_CELL = 30
LONGEST_NAME = 80  # characters
LONGEST_NUMBER = 20
LINEUP_KEYS = ("name", "gear", "ratings", "sections", "cells")
CELL_KEYS = ("id", "number", "name", "kind", "bus", "tie_to", "apparatus")


def read_draft(data: object) -> LineupDraft:
    """Return the draft that *data* is; its texts without the blanks at their ends.

    Raises InputError with every fault. Whether what is said of the whole can be true
    (two cells of one number, a section that is not there) is asked here too.
    """
    reader = _Reader()
    draft = reader.lineup(data)
    reader.faults.extend(draft_faults(draft))
    if reader.faults:
        raise InputError(*reader.faults)
    return draft


def draft_faults(draft: LineupDraft) -> Iterator[Fault]:
    """Yield what cannot be of the whole draft, its parts being what they should."""
    sections = [one.name for one in draft.sections]
    numbers = [cell.number for cell in draft.cells]
    for at in _repeated(sections):
        message = f"Two bus sections are called {sections[at]}."
        yield Fault(field=f"sections.{at}.name", message=message)
    for at in _repeated(numbers):
        message = f"Two cells have the number {numbers[at]}."
        yield Fault(field=f"cells.{at}.number", message=message)
    for at, cell in enumerate(draft.cells):
        yield from _cell_faults(f"cells.{at}", cell, set(sections))
    yield from _identity_faults(draft)


def _cell_faults(place: str, cell: CellDraft, sections: set[str]) -> Iterator[Fault]:
    who = f"Cell {cell.number}"
    known = ", ".join(sorted(sections)) or "none yet"
    for key, name in (("bus", cell.bus), ("tie_to", cell.tie_to)):
        if name and name not in sections:
            message = f"{who}: there is no bus section {name}; there is {known}."
            yield Fault(field=f"{place}.{key}", message=message)
    if cell.tie_to and cell.tie_to == cell.bus:
        message = f"{who}: a tie joins two sections; both ends are {cell.bus}."
        yield Fault(field=f"{place}.tie_to", message=message)
    labels = [one.label for one in cell.apparatus]
    for at in _repeated(labels):
        message = f"{who}: two apparatus are called {labels[at]}."
        yield Fault(field=f"{place}.apparatus.{at}.label", message=message)


def _identity_faults(draft: LineupDraft) -> Iterator[Fault]:
    """Yield what is there twice: an id, or a serial number of one kind and maker."""
    ids: set[UUID] = set()
    serials: dict[tuple[str, str, str], str] = {}
    for at, cell in enumerate(draft.cells):
        if cell.id in ids:
            yield Fault(field=f"cells.{at}.id", message="This cell stands twice.")
        if cell.id is not None:
            ids.add(cell.id)
        for number, one in enumerate(cell.apparatus):
            place = f"cells.{at}.apparatus.{number}"
            if one.id in ids:
                message = f"Cell {cell.number}: {one.label} stands twice."
                yield Fault(field=f"{place}.id", message=message)
            if one.id is not None:
                ids.add(one.id)
            if key := _serial(one):
                if key in serials:
                    message = (
                        f"Cell {cell.number}, {one.label}: {serials[key]} has the "
                        f"serial number {one.plate['serial']} already."
                    )
                    yield Fault(field=f"{place}.plate.serial", message=message)
                serials.setdefault(key, f"{one.label} in cell {cell.number}")


def _serial(one: ApparatusDraft) -> tuple[str, str, str] | None:
    serial = str(one.plate.get("serial", "")).casefold()
    maker = str(one.plate.get("maker", "")).casefold()
    return (one.kind, maker, serial) if serial else None


def _repeated(names: Sequence[str]) -> Iterator[int]:
    """Yield the places of names that stood before, capitals counting as small."""
    seen: set[str] = set()
    for at, name in enumerate(names):
        if name and name.casefold() in seen:
            yield at
        seen.add(name.casefold())


def _as_kept(name: str, value: Any) -> Any:
    """Return a number as it is stored: whole where the field is, else with a point."""
    if isinstance(value, list):
        return [_as_kept(name, one) for one in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return int(value) if field(name).whole else float(value)


class _Reader:
    """Reads the parts, and keeps the faults."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def lineup(self, data: object) -> LineupDraft:
        row = self._object("", "A lineup", data, LINEUP_KEYS)
        gear = self._choice("gear", "The gear", row.get("gear"), field("gear").choices)
        sections = self._list("sections", "bus sections", row, MOST_SECTIONS)
        cells = self._list("cells", "cells", row, MOST_CELLS)
        draft = LineupDraft(
            name=self._text("name", "the lineup", row.get("name")),
            gear=gear,
            ratings=self._plate("ratings", "The lineup", LINEUP, row.get("ratings")),
            sections=[
                self._section(f"sections.{n}", s) for n, s in enumerate(sections)
            ],
            cells=[self._cell(f"cells.{n}", n, cell) for n, cell in enumerate(cells)],
        )
        if "rated_kv" not in draft.ratings and not self._faulty("ratings"):
            self._fault("ratings.rated_kv", "Give the rated maximum voltage in kV.")
        return draft

    def _section(self, place: str, data: object) -> SectionDraft:
        row = self._object(place, "A bus section", data, ("name", "rated_a"))
        name = self._text(f"{place}.name", "the bus section", row.get("name"))
        who = f"Bus section {name}".strip()
        rated_a = self._value(f"{place}.rated_a", who, "rated_a", row.get("rated_a"))
        return SectionDraft(name=name, rated_a=rated_a)

    def _cell(self, place: str, at: int, data: object) -> CellDraft:
        row = self._object(place, f"Cell {at + 1} from the left", data, CELL_KEYS)
        where = f"cell {at + 1} from the left"
        number = self._text(
            f"{place}.number", where, row.get("number"), LONGEST_NUMBER, "number"
        )
        who = f"Cell {number}" if number else where.capitalize()
        held = self._list(
            f"{place}.apparatus", f"things in {who.lower()}", row, MOST_IN_A_CELL
        )
        return CellDraft(
            id=self._id(f"{place}.id", who, row.get("id")),
            number=number,
            name=self._text(f"{place}.name", who.lower(), row.get("name")),
            kind=self._choice(f"{place}.kind", who, row.get("kind"), cell_kinds()),
            bus=self._text(
                f"{place}.bus", who.lower(), row.get("bus"), word="bus section"
            ),
            tie_to=None
            if row.get("tie_to") in (None, "")
            else self._text(f"{place}.tie_to", who.lower(), row["tie_to"]),
            apparatus=[
                self._apparatus(f"{place}.apparatus.{n}", who, one)
                for n, one in enumerate(held)
            ],
        )

    def _apparatus(self, place: str, cell: str, data: object) -> ApparatusDraft:
        row = self._object(
            place, f"{cell}: an apparatus", data, ("id", "kind", "label", "plate")
        )
        label = self._text(
            f"{place}.label", f"what is in {cell.lower()}", row.get("label")
        )
        who = f"{cell}, {label}" if label else cell
        kind = self._choice(f"{place}.kind", who, row.get("kind"), apparatus_kinds())
        return ApparatusDraft(
            id=self._id(f"{place}.id", who, row.get("id")),
            kind=kind,
            label=label,
            plate=self._plate(f"{place}.plate", who, kind, row.get("plate")),
        )

    def _plate(self, place: str, who: str, kind: str, data: object) -> dict[str, Any]:
        """Return what is known; a field that the kind does not have is a fault."""
        if data is None or not kind:
            return {}
        row = self._object(place, f"{who}: the nameplate", data, None)
        return {
            name: value
            for name in row
            if self._has(f"{place}.{name}", who, kind, name)
            and (value := self._value(f"{place}.{name}", who, name, row[name]))
            is not None
        }

    def _has(self, place: str, who: str, kind: str, name: str) -> bool:
        if name in plate_names(kind):
            return True
        about = find_field(name)
        label = f"“{about.label}”" if about else f"field “{name}”"
        what = "lineup" if kind == LINEUP else apparatus_kinds()[kind].label
        article = "an" if what[0] in "aeiou" else "a"
        self._fault(place, f"{who}: the nameplate of {article} {what} has no {label}.")
        return False

    def _value(self, place: str, who: str, name: str, value: object) -> Any:
        if isinstance(value, str):
            value = value.strip()
        if value is None or value in ("", []):
            return None
        try:
            return _as_kept(name, check_value(name, value))
        except InputError as error:
            for fault in error.faults:
                self._fault(place, f"{who}: {fault.message}")
            return None

    def _text(
        self,
        place: str,
        who: str,
        value: object,
        longest: int = LONGEST_NAME,
        word: str = "name",
    ) -> str:
        if value is not None and not isinstance(value, str):
            self._fault(place, f"The {word} of {who} is no text.")
            return ""
        said = " ".join((value or "").split())
        if not said:
            self._fault(place, f"Give {who} a {word}.")
        if len(said) > longest:
            self._fault(
                place, f"The {word} of {who} has {len(said)} characters; {longest} fit."
            )
        return said

    def _choice(
        self,
        place: str,
        who: str,
        value: object,
        allowed: Sequence[str] | Mapping[str, object],
    ) -> str:
        if isinstance(value, str) and value in allowed:
            return value
        known = ", ".join(allowed)
        said = f"“{value}” is none of {known}" if value else f"choose one of {known}"
        self._fault(place, f"{who}: {said}.")
        return ""

    def _id(self, place: str, who: str, value: object) -> UUID | None:
        if value in (None, ""):
            return None
        try:
            return UUID(str(value))
        except ValueError:
            self._fault(place, f"{who}: “{value}” is no identifier.")
            return None

    def _list(
        self, place: str, what: str, row: Mapping[str, Any], most: int
    ) -> Sequence[object]:
        value = row.get(place.rpartition(".")[2])
        if value is None:
            return ()
        if not isinstance(value, list):
            self._fault(place, f"The {what} are no list.")
            return ()
        if len(value) > most:
            self._fault(place, f"There are {len(value)} {what}; {most} is the most.")
        return value[:most]

    def _object(
        self, place: str, who: str, data: object, keys: Sequence[str] | None
    ) -> Mapping[str, Any]:
        if not isinstance(data, dict):
            self._fault(place, f"{who} is no object.")
            return {}
        for key in data:
            if keys is not None and key not in keys:
                where = f"{place}.{key}" if place else str(key)
                self._fault(where, f"{who} has no “{key}”.")
        return data

    def _faulty(self, place: str) -> bool:
        return any(fault.field.startswith(place) for fault in self.faults)

    def _fault(self, place: str, message: str) -> None:
        self.faults.append(Fault(field=place, message=message))
