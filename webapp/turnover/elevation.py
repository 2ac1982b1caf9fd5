"""A round's front elevation with the progress of each cell."""

from flask import url_for
from markupsafe import Markup

from models.services.round_sheet import CellSheet, RoundSheet
from webapp.drawing import Plate, elevation, svg

LONGEST_ROW = 10  # cells side by side; a longer lineup goes on in another row
ROW_WIDTH = 896.0  # of the cells in a row that fits a small screen held across
NARROWEST, WIDEST = 104.0, 180.0


def drawn(sheet: RoundSheet) -> list[Markup]:
    """Return the elevation, row by row; a cell leads to its cards."""
    cells = sheet.cells
    rows = -(-len(cells) // LONGEST_ROW)
    return [_row(sheet, cells, n, rows) for n in range(rows)]


def _row(sheet: RoundSheet, cells: list[CellSheet], n: int, rows: int) -> Markup:
    per_row = -(-len(cells) // rows)
    row = cells[n * per_row : (n + 1) * per_row]
    schedule = url_for("turnover.cards", round_id=sheet.head.id)
    drawing = elevation(
        [
            {"number": c.number, "name": c.name, "kind": c.kind, "bus": c.bus}
            for c in row
        ],
        plates=[_plate(cell) for cell in row],
        hrefs=[f"{schedule}#cell-{cell.id}" for cell in row],
        ratings=sheet.head.ratings if n == rows - 1 else "",
        gear=sheet.head.gear,
        cell_width=min(max(ROW_WIDTH / len(row), NARROWEST), WIDEST),
        title=f"Front elevation of {sheet.head.lineup_name}",
        cut_left=n > 0,
        cut_right=n < rows - 1,
    )
    return Markup(svg(drawing))  # noqa: S704 (escaped there)


def _plate(cell: CellSheet) -> Plate:
    cards, signed = len(cell.standing), cell.signed
    if not cards:
        return Plate(text="no cards", share=0.0)
    if signed == cards:
        text = "all signed"
    elif any(card.state != "not_begun" for card in cell.standing):
        text = f"{signed} of {cards} signed"
    else:
        text = "not begun"
    return Plate(text=text, share=signed / cards, findings=cell.findings)
