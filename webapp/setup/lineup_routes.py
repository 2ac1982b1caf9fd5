"""A lineup that is stored: its page, its editor, and saving it."""

from dataclasses import asdict
from typing import Any
from uuid import UUID

from flask import flash, jsonify, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import ConflictError, Fault, InputError
from models.record.lineup_draft import LineupDraft, draft_json
from models.record.ratings import ratings_remarks
from models.record.read_lineup_draft import read_draft
from models.services.setup import sites as site_services
from models.services.setup.lineup_page import LineupPage, lineup_page
from models.services.setup.save_lineup import save_lineup
from models.services.setup.stored_draft import lineup_draft_of
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.elevation_rows import elevation_rows
from webapp.setup.editor_routes import editor_data, sent_object
from webapp.setup.routes import bp


@bp.get("/lineups/<uuid:lineup_id>")
def lineup(lineup_id: UUID) -> ResponseReturnValue:
    """Show a lineup with what comes next."""
    found = lineup_page(db(), person_id=current_user.id, lineup_id=lineup_id)
    return render_template("setup/lineup.html", lineup=found, drawings=_drawings(found))


def _drawings(found: LineupPage) -> list[Any]:
    cells = [
        {"number": cell.number, "name": cell.name, "kind": cell.kind, "bus": bus}
        for cell, bus in zip(found.draft.cells, found.bus_labels, strict=True)
    ]
    return elevation_rows(
        cells,
        hrefs=[],
        ratings=found.ratings,
        gear=found.gear,
        title=f"Front elevation of {found.name}",
    )


@bp.get("/lineups/<uuid:lineup_id>/change")
def changing_lineup(lineup_id: UUID) -> ResponseReturnValue:
    """Show the editor with the lineup as it is stored."""
    found = lineup_page(db(), person_id=current_user.id, lineup_id=lineup_id)
    site = site_services.site_summary(
        db(), person_id=current_user.id, site_id=found.site_id
    )
    return render_template(
        "setup/editor.html",
        site=site,
        lineup=found,
        editor=editor_data(
            keep=f"{current_user.id}:{lineup_id}",
            save=url_for(".change_lineup", lineup_id=lineup_id),
            draft=draft_json(found.draft),
            version=found.version,
        ),
    )


@bp.post("/sites/<uuid:site_id>/lineups/new")
def add_lineup(site_id: UUID) -> ResponseReturnValue:
    """Save a new lineup."""
    site_services.site_summary(db(), person_id=current_user.id, site_id=site_id)
    saved = _save(sent_object(), site_id, None)
    commit()
    flash("The lineup is saved.")
    return jsonify({"location": url_for(".lineup", lineup_id=saved)})


@bp.post("/lineups/<uuid:lineup_id>/change")
def change_lineup(lineup_id: UUID) -> ResponseReturnValue:
    """Save a change of a lineup; where somebody else saved one, send theirs back."""
    found = lineup_page(db(), person_id=current_user.id, lineup_id=lineup_id)
    site_services.site_summary(db(), person_id=current_user.id, site_id=found.site_id)
    try:
        _save(sent_object(), found.site_id, lineup_id)
    except ConflictError as error:
        return _conflict(lineup_id, error)
    commit()
    flash("The lineup is saved.")
    return jsonify({"location": url_for(".lineup", lineup_id=lineup_id)})


def _save(body: dict[str, Any], site_id: UUID, lineup_id: UUID | None) -> UUID:
    seen = body.get("seen_version")
    if lineup_id is not None and (isinstance(seen, bool) or not isinstance(seen, int)):
        message = "Say which version of the lineup was seen."
        raise InputError(Fault(field="seen_version", message=message))
    return save_lineup(
        db(),
        person_id=current_user.id,
        site_id=site_id,
        lineup_id=lineup_id,
        draft=read_draft(body.get("draft")),
        reason=str(body.get("reason") or ""),
        seen_version=seen if lineup_id else None,
        now=now(),
        new_id=new_id,
    )


def _conflict(lineup_id: UUID, error: ConflictError) -> ResponseReturnValue:
    draft, version = lineup_draft_of(db(), current_user.id, lineup_id)
    answer = {
        "faults": [{"field": "", "message": str(error)}],
        "theirs": draft_json(draft),
        "version": version,
    }
    return jsonify(answer), 409


@bp.post("/lineups/remarks")
def remarks() -> ResponseReturnValue:
    """Answer with what the ratings of a draft say of each other."""
    draft: LineupDraft = read_draft(sent_object().get("draft"))
    return jsonify({"remarks": [asdict(one) for one in ratings_remarks(draft)]})
