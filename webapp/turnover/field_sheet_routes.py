"""Blank field sheets to print, of a card or of a whole round."""

from io import BytesIO
from typing import Any
from uuid import UUID

from flask import send_file
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.field import field_sheet
from webapp.clock import now
from webapp.db import close, db
from webapp.pdf import render_field_sheets
from webapp.turnover.routes import bp


@bp.get("/rounds/<uuid:round_id>/field-sheets.pdf")
def round_field_sheets(round_id: UUID) -> ResponseReturnValue:
    """Send the blank sheets of every card of the round."""
    document = field_sheet.round_sheets(
        db(), person_id=current_user.id, round_id=round_id, now=now()
    )
    return _send(document, "field-sheets")


@bp.get("/cards/<uuid:card_id>/field-sheet.pdf")
def card_field_sheet(card_id: UUID) -> ResponseReturnValue:
    """Send the blank sheet of one card."""
    document = field_sheet.card_sheet(
        db(), person_id=current_user.id, card_id=card_id, now=now()
    )
    return _send(document, f"field-sheet-{document['cards'][0]['number']}")


def _send(document: dict[str, Any], name: str) -> ResponseReturnValue:
    close()
    said = f"{name}-{document['lineup']['name']}.pdf".lower().replace(" ", "-")
    return send_file(
        BytesIO(render_field_sheets(document)),
        mimetype="application/pdf",
        as_attachment=True,
        download_name=said,
    )
