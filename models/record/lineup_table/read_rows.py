"""Read the rows of a table as a lineup's draft; every fault by its cell, at once.

A sheet's rows come as (number, cells), a cell as (text, what is wrong with it): what
the readers of tables make of a file. This knows no files.
"""

from collections.abc import Mapping, Sequence

from models.errors import Fault, InputError
from models.record.lineup_draft import LineupDraft
from models.record.lineup_table.block import Block
from models.record.lineup_table.headings import (
    CELL,
    LINEUP_SHEET,
    TABLE_SHEET,
    is_remark,
    known_heading,
)
from models.record.lineup_table.rows import Cells, Place, Row, Said
from models.record.lineup_table.table import Body
from models.record.read_lineup_draft import read_draft

MOST_FAULTS = 200  # that are said


def read_rows(sheets: Mapping[str, Sequence[Row]]) -> LineupDraft:
    """Return the lineup that *sheets* hold.

    Raises InputError with every fault, its field the place: `Apparatus, row 7, column
    G`. Nothing is taken where anything is wrong.
    """
    before, table = _divided(_chosen(sheets))
    said = Said((before or table)[0].place)
    block = Block(said)
    for row in before:
        block.line(row)
    body = Body(said, table[0], block.hz)
    if not body.whole:
        raise InputError(*said.in_order(MOST_FAULTS))
    for row in table[1:]:
        body.row(row)
    data = {**block.data(), "cells": body.cells}
    draft: LineupDraft | None = None
    try:
        draft = read_draft(data)
    except InputError as error:
        said.draft_faults(error.faults)
    if said.faults or draft is None:
        raise InputError(*said.in_order(MOST_FAULTS))
    return draft


def _chosen(sheets: Mapping[str, Sequence[Row]]) -> list[Cells]:
    """Return the rows of the two sheets, or of the only one, without remarks."""
    names = {name.strip().casefold(): name for name in sheets}
    wanted = [
        names[one.casefold()]
        for one in (LINEUP_SHEET, TABLE_SHEET)
        if one.casefold() in names
    ]
    if len(sheets) == 1:
        wanted = list(sheets)
    if len(sheets) > 1 and TABLE_SHEET.casefold() not in names:
        message = f"There is no sheet {TABLE_SHEET}; there is {', '.join(sheets)}."
        raise InputError(Fault(field="the file", message=message))
    return [
        Cells(Place(name, number), cells)
        for name in wanted
        for number, cells in sheets[name]
        if not is_remark(cells[0][0])
    ]


def _divided(rows: list[Cells]) -> tuple[list[Cells], list[Cells]]:
    """Return the lines before the headings of the table, and the table with them."""
    for at, row in enumerate(rows):
        known = [known_heading(text) for text, _ in row.cells]
        if CELL in known and len([one for one in known if one]) > 1:
            return rows[:at], rows[at:]
    message = (
        "No row has the headings of the table: Cell, Cell name, Drawn as, Bus section, "
        "Apparatus, Label. Begin with the template."
    )
    place = rows[-1].place.sheet if rows else ""
    raise InputError(Fault(field=place or "the file", message=message))
