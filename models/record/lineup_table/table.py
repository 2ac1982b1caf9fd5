"""The table: a row an apparatus, its cell's own columns said once or alike."""

from collections.abc import Mapping
from typing import Any

from models.procedures.plates import cell_kinds
from models.record.lineup_table.headings import (
    APPARATUS,
    APPARATUS_ID,
    CELL,
    CELL_NAME,
    DRAWN_AS,
    LABEL,
    OF_THE_APPARATUS,
    OF_THE_CELL,
    FieldHeading,
    kind_of,
    known_heading,
    like,
    symbol_of,
    unmarked,
)
from models.record.lineup_table.rows import Cells, Said
from models.record.lineup_table.value import read_cell

NEEDED = (CELL, CELL_NAME, DRAWN_AS, "Bus section", APPARATUS, LABEL)


class Body:
    """Reads the rows, one after the other; *cells* is what they gave so far."""

    def __init__(self, said: Said, headings: Cells, hz: float | None) -> None:
        """Read the headings; what is wrong with them is said."""
        self._said = said
        self._hz = hz
        self._own: dict[str, int] = {}
        self._fields: dict[int, FieldHeading] = {}
        self._blank: set[int] = set()  # columns without a heading
        self._width = len(headings.cells)
        self._first: dict[str, int] = {}  # number of a cell -> the row it began in
        self.cells: list[dict[str, Any]] = []
        self._begun: list[Cells] = []
        for at, (text, wrong) in enumerate(headings.cells):
            self._heading(headings, at, text.strip())
            if wrong:
                said.fault(headings.place.at(at), f"The heading {wrong}")
        for one in NEEDED:
            if one not in self._own:
                said.fault(headings.place, f"The column “{one}” is missing.")

    @property
    def whole(self) -> bool:
        """Whether the table has every column that a lineup needs."""
        return all(one in self._own for one in NEEDED)

    def row(self, row: Cells) -> None:
        """Read a row: an apparatus, or a cell without any."""
        self._look_at(row)
        if known_heading(self._text(row, CELL)) == CELL:
            message = "These are the headings once more: the table has one row of them."
            self._said.fault(row.place, message)
            return
        at = self._cell(row)
        if at is not None:
            self._apparatus(row, at)

    def _heading(self, row: Cells, at: int, text: str) -> None:
        known = known_heading(text)
        place = row.place.at(at)
        if not text:
            self._blank.add(at)
        elif known is None:
            hint = like(text)
            hint = f" Did you mean “{hint}”?" if hint else ""
            self._said.fault(place, f"“{text}” is no heading of this table.{hint}")
        elif isinstance(known, FieldHeading):
            if known.field in [one.field for one in self._fields.values()]:
                self._said.fault(place, f"The column {known.field.label} stands twice.")
            self._fields[at] = known
        elif known in self._own:
            self._said.fault(place, f"The column {known} stands twice.")
        else:
            self._own[known] = at

    def _look_at(self, row: Cells) -> None:
        """Say which cells cannot be read, and which stand under no heading."""
        for at, (text, wrong) in enumerate(row.cells):
            if wrong:
                self._said.fault(row.place.at(at), f"The cell {wrong}")
            elif text.strip() and at >= self._width:
                said = "This is beyond the last heading: are the cells shifted?"
                self._said.fault(row.place.at(at), said)
            elif text.strip() and at in self._blank:
                said = "This column has no heading."
                self._said.fault(row.place.at(at), said)

    def _cell(self, row: Cells) -> int | None:
        """Return which cell the row is of; a new number begins one."""
        number = unmarked(self._text(row, CELL))
        last = len(self.cells) - 1
        if not number and last < 0:
            self._said.fault(self._at(row, CELL), "Give the number of the cell.")
            return None
        if not number or (last >= 0 and number == self.cells[last]["number"]):
            self._same(row, last)
            return last
        if number in self._first:
            message = (
                f"Cell {number} began in row {self._first[number]}, and another stands "
                "between: put its rows together, or give it a number of its own."
            )
            self._said.fault(self._at(row, CELL), message)
            return None
        self._begin(row, number)
        return last + 1

    def _begin(self, row: Cells, number: str) -> None:
        place = f"cells.{len(self.cells)}"
        self._first[number] = row.place.row
        cell: dict[str, Any] = {"number": number, "apparatus": []}
        self._said.stands(place, self._at(row, CELL))
        for head, key in OF_THE_CELL.items():
            cell[key] = self._word(row, head) or None
            self._said.stands(f"{place}.{key}", self._at(row, head))
        self.cells.append(cell)
        self._begun.append(row)

    def _same(self, row: Cells, at: int) -> None:
        """Say where a row gives its cell otherwise than the row it began in."""
        cell, begun = self.cells[at], self._begun[at]
        for head, key in OF_THE_CELL.items():
            given = self._word(row, head)
            if key == "kind" and cell[key] not in cell_kinds():
                continue  # said already, where it stands first
            if given and given != cell[key]:
                message = (
                    f"Cell {cell['number']}: {head.lower()} is "
                    f"“{self._text(begun, head)}” in row {begun.place.row}. Say it "
                    "alike or leave it blank; another cell has another number."
                )
                self._said.fault(self._at(row, head), message)

    def _apparatus(self, row: Cells, at: int) -> None:
        given = {head: self._word(row, head) for head in OF_THE_APPARATUS}
        filled = [n for n in self._fields if n < len(row.cells) and row.cells[n][0]]
        if not any(given.values()) and not filled:
            return
        cell = self.cells[at]
        place = f"cells.{at}.apparatus.{len(cell['apparatus'])}"
        who = f"Cell {cell['number']}, {given[LABEL] or 'an apparatus'}"
        self._said.stands(place, self._at(row, APPARATUS))
        for head, key in OF_THE_APPARATUS.items():
            self._said.stands(f"{place}.{key}", self._at(row, head))
        cell["apparatus"].append(
            {
                "kind": given[APPARATUS] or None,
                "label": given[LABEL] or None,
                "id": given[APPARATUS_ID] or None,
                "plate": self._plate(row, place, who),
            }
        )

    def _plate(self, row: Cells, place: str, who: str) -> Mapping[str, Any]:
        plate = {}
        for at, known in self._fields.items():
            self._said.stands(f"{place}.plate.{known.field.name}", row.place.at(at))
            value = read_cell(self._said, row, at, known, who, self._hz)
            if value is not None:
                plate[known.field.name] = value
        return plate

    def _word(self, row: Cells, head: str) -> str:
        """Return a text; a kind or a symbol by its name."""
        text = self._text(row, head)
        if head == APPARATUS:
            return kind_of(text)
        return symbol_of(text) if head == DRAWN_AS else text

    def _text(self, row: Cells, head: str) -> str:
        at = self._own.get(head)
        if at is None or at >= len(row.cells):
            return ""
        return " ".join(row.cells[at][0].split())

    def _at(self, row: Cells, head: str) -> Any:
        return row.place.at(self._own.get(head, 0))
