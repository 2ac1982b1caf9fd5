"""A round's front elevation with the progress of each cell."""

from flask import url_for
from markupsafe import Markup

from models.services.turnover.round_sheet import CellSheet, RoundSheet
from webapp.drawing import Plate
from webapp.elevation_rows import elevation_rows


def drawn(sheet: RoundSheet) -> list[Markup]:
    """Return the elevation, row by row; a cell leads to its cards."""
    schedule = url_for("turnover.cards", round_id=sheet.head.id)
    return elevation_rows(
        [
            {"number": c.number, "name": c.name, "kind": c.kind, "bus": c.bus}
            for c in sheet.cells
        ],
        plates=[_plate(cell) for cell in sheet.cells],
        hrefs=[
            f"{schedule}#cell-{cell.id}" if cell.cards else "" for cell in sheet.cells
        ],
        ratings=sheet.head.ratings,
        gear=sheet.head.gear,
        title=f"Front elevation of {sheet.head.lineup_name}",
    )


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
