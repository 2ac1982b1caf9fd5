"""Tables of lineups handed out: empty templates, and lineups as they are."""

from io import BytesIO
from uuid import UUID

from flask import request, send_file
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import NotFoundError
from models.fields import field
from models.services.setup import sites
from models.services.setup.export_lineup import (
    lineup_csv,
    lineup_workbook,
    template_csv,
    template_workbook,
)
from models.services.setup.stored_draft import lineup_draft_of
from webapp.db import db
from webapp.setup.routes import bp

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
CSV = "text/csv"
# Ending of the address: its type, what writes a template, what writes a lineup.
FORMS = {
    "xlsx": (XLSX, template_workbook, lineup_workbook),
    "csv": (CSV, template_csv, lineup_csv),
}


@bp.get("/sites/<uuid:site_id>/lineups/template.<any(xlsx, csv):form>")
def template(site_id: UUID, form: str) -> ResponseReturnValue:
    """Send an empty table for the gear that is asked for."""
    sites.site_summary(db(), person_id=current_user.id, site_id=site_id)
    gear = request.args.get("gear", field("gear").choices[0])
    if gear not in field("gear").choices:
        raise NotFoundError("gear", gear)
    kind, write, _ = FORMS[form]
    return _sent(write(gear), kind, f"lineup-{gear.replace('_', '-')}.{form}")


@bp.get("/lineups/<uuid:lineup_id>/table.<any(xlsx, csv):form>")
def table(lineup_id: UUID, form: str) -> ResponseReturnValue:
    """Send a lineup as a table that can be imported again."""
    draft, _ = lineup_draft_of(db(), current_user.id, lineup_id)
    kind, _, write = FORMS[form]
    return _sent(write(draft), kind, f"lineup-{draft.name}.{form}")


def _sent(data: bytes, kind: str, name: str) -> ResponseReturnValue:
    return send_file(
        BytesIO(data), mimetype=kind, as_attachment=True, download_name=name
    )
