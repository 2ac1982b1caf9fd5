"""Lists across rounds: deficiencies, cards."""

from flask import render_template
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.turnover.list_cards import list_cards
from models.services.turnover.list_deficiencies import list_deficiencies
from webapp.db import db
from webapp.looked_for import wanted
from webapp.turnover.routes import bp


@bp.get("/deficiencies")
def deficiencies() -> ResponseReturnValue:
    """List the deficiencies of all rounds."""
    page = list_deficiencies(db(), person_id=current_user.id, **wanted())
    return render_template("turnover/deficiencies.html", page=page)


@bp.get("/cards")
def all_cards() -> ResponseReturnValue:
    """List the cards of all rounds."""
    page = list_cards(db(), person_id=current_user.id, **wanted())
    return render_template("turnover/all_cards.html", page=page)
