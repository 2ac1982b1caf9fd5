"""One cell of a field: read in the column's unit, refused in the field's words."""

from typing import Any

from models.errors import InputError
from models.fields import read_value
from models.record.lineup_table.headings import FieldHeading, choice_of
from models.record.lineup_table.rows import Cells, Said


def read_cell(
    said: Said, row: Cells, at: int, known: FieldHeading, who: str, hz: float | None
) -> Any:
    """Return the value of a cell; None: blank, or a fault that was said."""
    text, wrong = row.cells[at] if at < len(row.cells) else ("", "")
    text = text.strip()
    if wrong or not text:
        return None
    try:
        unit = known.unit if known.unit != known.field.unit else None
        value = read_value(known.field, choice_of(known.field, text), unit, hz)
    except InputError as error:
        for fault in error.faults:
            said.fault(row.place.at(at), f"{who}: {fault.message}")
        return None
    return int(value) if known.field.whole else value
