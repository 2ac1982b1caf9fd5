"""A round's front elevation with the progress of each cell."""

from flask import url_for
from markupsafe import Markup

from models.record.cells import cell_progress
from models.services.turnover.round_overview import CellOverview, RoundOverview
from webapp.drawing import Plate
from webapp.elevation_rows import elevation_rows


def drawn(sheet: RoundOverview) -> list[Markup]:
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


def _plate(cell: CellOverview) -> Plate:
    progress = cell_progress([card.state for card in cell.cards])
    return Plate(text=progress.text, share=progress.share, findings=cell.findings)
