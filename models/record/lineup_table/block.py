"""The lines before the table: the lineup's name, gear, ratings and bus sections."""

from typing import Any

from models.fields import field
from models.record.lineup_table.headings import (
    GEAR,
    NAME,
    FieldHeading,
    choice_of,
    known_heading,
    like,
)
from models.record.lineup_table.rows import Cells, Said
from models.record.lineup_table.value import read_cell

NAMED, GIVEN, SECTION_A = 0, 1, 2  # columns of a line


class Block:
    """Reads the lines, one after the other."""

    def __init__(self, said: Said) -> None:
        """Begin with none."""
        self._said = said
        self._name: str | None = None
        self._gear: str | None = None
        self._ratings: dict[str, Any] = {}
        self._given: set[str] = set()
        self._sections: list[dict[str, Any]] = []
        self.hz: float | None = None

    def line(self, row: Cells) -> None:
        """Read a line: what it gives, and the value."""
        text = row.cells[NAMED][0].strip()
        for at, (_, wrong) in enumerate(row.cells):
            if wrong:
                self._said.fault(row.place.at(at), f"{text}: the cell {wrong}")
        for at in range(SECTION_A if text.casefold() != "bus section" else 3, 99):
            if at < len(row.cells) and row.cells[at][0].strip():
                message = f"{text}: nothing is wanted here."
                self._said.fault(row.place.at(at), message)
        known = known_heading(text, lineup=True)
        if known is None:
            self._unknown(row, text)
        elif isinstance(known, FieldHeading):
            self._rating(row, known)
        else:
            self._own(row, known)

    def data(self) -> dict[str, Any]:
        """Return the draft's parts that the lines gave."""
        return {
            "name": self._name,
            "gear": self._gear,
            "ratings": self._ratings,
            "sections": self._sections,
        }

    def _unknown(self, row: Cells, text: str) -> None:
        hint = like(text, lineup=True)
        said = f" Did you mean “{hint}”?" if hint else ""
        message = f"“{text}” is nothing that a lineup gives.{said}"
        self._said.fault(row.place.at(NAMED), message)

    def _rating(self, row: Cells, known: FieldHeading) -> None:
        name = known.field.name
        self._said.stands(f"ratings.{name}", row.place.at(GIVEN))
        if name in self._given:
            message = f"{known.field.label} is given twice."
            self._said.fault(row.place.at(NAMED), message)
            return
        self._given.add(name)
        value = read_cell(self._said, row, GIVEN, known, "The lineup", self.hz)
        if value is not None:
            self._ratings[name] = value
        if name == "rated_hz" and isinstance(value, float):
            self.hz = value

    def _own(self, row: Cells, known: str) -> None:
        text = _text(row, GIVEN)
        if known == NAME:
            self._said.stands("name", row.place.at(GIVEN))
            self._name = text
        elif known == GEAR:
            self._said.stands("gear", row.place.at(GIVEN))
            self._gear = choice_of(field("gear"), text)
        elif text:
            self._section(row, text)

    def _section(self, row: Cells, name: str) -> None:
        place = f"sections.{len(self._sections)}"
        self._said.stands(place, row.place.at(GIVEN))
        self._said.stands(f"{place}.rated_a", row.place.at(SECTION_A))
        about = FieldHeading(field("rated_a"), None)
        who = f"Bus section {name}"
        rated_a = read_cell(self._said, row, SECTION_A, about, who, self.hz)
        self._sections.append({"name": name, "rated_a": rated_a})


def _text(row: Cells, at: int) -> str:
    return row.cells[at][0].strip() if at < len(row.cells) else ""
