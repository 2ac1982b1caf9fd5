"""The safety sheet of a round, to print and sign."""

from io import BytesIO
from uuid import UUID

from flask import request, send_file
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.turnover.safety_sheet import sheet_of_round
from webapp.clock import now
from webapp.db import close, db
from webapp.pdf import render_safety_sheets
from webapp.turnover.routes import bp


@bp.get("/rounds/<uuid:round_id>/safety-sheet.pdf")
def safety_sheet(round_id: UUID) -> ResponseReturnValue:
    """Send the sheet with what is on record so far; `?blank=1`: without it."""
    document = sheet_of_round(
        db(),
        person_id=current_user.id,
        round_id=round_id,
        now=now(),
        blank=request.args.get("blank") == "1",
    )
    close()
    name = f"safety-sheet-{document['lineup']['name']}.pdf".lower().replace(" ", "-")
    return send_file(
        BytesIO(render_safety_sheets(document)),
        mimetype="application/pdf",
        as_attachment=True,
        download_name=name,
    )
