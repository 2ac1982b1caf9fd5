"""Take everything on record of a site, a lineup or a round along, as a zip."""

from collections.abc import Iterator
from uuid import UUID

from flask import Response, stream_with_context
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.export.scope import Scope, scope_for
from webapp.db import close, db, snapshot_session
from webapp.export.parts import parts, slug
from webapp.export.writing import zipped
from webapp.file_store import store
from webapp.files.routes import bp


@bp.get("/export/<any(site, lineup, round):subject>/<uuid:subject_id>")
def export(subject: str, subject_id: UUID) -> ResponseReturnValue:
    """Send the export while it is made; nothing of it is kept here."""
    scope = scope_for(
        db(), person_id=current_user.id, kind=subject, subject_id=subject_id
    )
    close()
    name = f"export-{slug(scope.name)}"
    response = Response(
        stream_with_context(_sent(scope, name)), mimetype="application/zip"
    )
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.zip"'
    return response


def _sent(scope: Scope, name: str) -> Iterator[bytes]:
    with snapshot_session() as session:
        yield from zipped(parts(session, store(), scope), name)
