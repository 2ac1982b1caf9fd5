"""The front elevation of a plan: how many cards each cell gets, and who has them."""

from flask import url_for
from markupsafe import Markup

from models.services.planning.plan_view import PlanCell, PlanView
from webapp.drawing import Plate
from webapp.elevation_rows import elevation_rows


def drawn(view: PlanView, chosen: PlanCell | None) -> list[Markup]:
    """Return the elevation, row by row; a cell leads to its cards."""
    places = [cell.id for cell in view.cells]
    return elevation_rows(
        [
            {"number": c.number, "name": c.name, "kind": c.kind, "bus": c.bus}
            for c in view.cells
        ],
        plates=[_plate(cell) for cell in view.cells],
        hrefs=[
            url_for(
                "planning.plan", plan_id=view.id, cell=str(cell.id), _anchor="cards"
            )
            for cell in view.cells
        ],
        chosen=places.index(chosen.id) if chosen else None,
        ratings=view.ratings,
        gear=view.gear,
        title=f"Front elevation of {view.lineup_name}",
    )


def _plate(cell: PlanCell) -> Plate:
    """Return a cell's plate; its bar is the share of cards that somebody has."""
    cards = cell.planned
    given = sum(line.card.assigned_to_id is not None for line in cards)
    blind = sum(not (p.preview.judged or p.preview.compared) for p in cards)
    return Plate(
        text="1 card" if len(cards) == 1 else f"{len(cards) or 'no'} cards",
        share=given / len(cards) if cards else 0.0,
        findings=[("unjudged", blind)] if blind else [],
    )
