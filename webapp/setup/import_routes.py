"""Import of lineups from tables: the file, the preview, and *Save*."""

from hashlib import sha256
from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user
from flask_wtf import FlaskForm
from flask_wtf.file import FileField
from wtforms import HiddenField, StringField

from models.errors import InputError
from models.fields import field
from models.record.lineup_differences import differences, with_ids
from models.record.lineup_draft import LineupDraft, draft_json
from models.services.setup import sites
from models.services.setup.import_lineup import read_lineup_table
from models.services.setup.lineup_place import LineupPlace, lineup_place
from models.services.setup.save_lineup import save_lineup
from models.services.setup.stored_draft import lineup_draft_of
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.setup.carried import carried, carry
from webapp.setup.editor_routes import editor_data
from webapp.setup.preview import preview_of
from webapp.setup.routes import bp

GEARS = [(gear, field("gear").choice_words(gear)) for gear in field("gear").choices]


class TableForm(FlaskForm):
    """The table to import."""

    table = FileField("The filled table")


class SaveForm(FlaskForm):
    """What the preview carries; the reason is asked for in a change."""

    draft = HiddenField()
    version = HiddenField()
    reason = StringField("Why it changes")


@bp.get("/sites/<uuid:site_id>/lineups/import")
def importing(site_id: UUID) -> ResponseReturnValue:
    """Hand out the templates, and ask for the filled file."""
    return _asking(_new(site_id))


@bp.post("/sites/<uuid:site_id>/lineups/import")
def preview_import(site_id: UUID) -> ResponseReturnValue:
    """Show what the file would make."""
    return _previewed(_new(site_id))


@bp.post("/sites/<uuid:site_id>/lineups/import/save")
def save_import(site_id: UUID) -> ResponseReturnValue:
    """Save what the preview showed, as a new lineup."""
    return _saved(_new(site_id))


@bp.get("/lineups/<uuid:lineup_id>/import")
def importing_change(lineup_id: UUID) -> ResponseReturnValue:
    """Hand out the lineup as it is, and ask for the changed file."""
    return _asking(lineup_place(db(), current_user.id, lineup_id))


@bp.post("/lineups/<uuid:lineup_id>/import")
def preview_change(lineup_id: UUID) -> ResponseReturnValue:
    """Show what the file would change."""
    return _previewed(lineup_place(db(), current_user.id, lineup_id))


@bp.post("/lineups/<uuid:lineup_id>/import/save")
def save_change(lineup_id: UUID) -> ResponseReturnValue:
    """Save what the preview showed, as a change."""
    return _saved(lineup_place(db(), current_user.id, lineup_id))


@bp.post("/sites/<uuid:site_id>/lineups/import/editor")
def edit_import(site_id: UUID) -> ResponseReturnValue:
    """Open what the preview showed in the editor, not saved yet."""
    site = sites.site_summary(db(), person_id=current_user.id, site_id=site_id)
    sent = SaveForm().draft.data or ""
    editor = editor_data(
        keep=f"{current_user.id}:table:{sha256(sent.encode()).hexdigest()}",
        save=url_for(".add_lineup", site_id=site_id),
        draft=draft_json(carried(sent)),
    )
    return render_template("setup/editor.html", site=site, lineup=None, editor=editor)


def _new(site_id: UUID) -> LineupPlace:
    site = sites.site_summary(db(), person_id=current_user.id, site_id=site_id)
    return LineupPlace(site_id=site.id, site_name=site.name)


def _asking(
    place: LineupPlace, faults: InputError | None = None
) -> ResponseReturnValue:
    page = render_template(
        "setup/import.html",
        place=place,
        form=TableForm(),
        gears=GEARS,
        faults=faults.faults if faults else (),
    )
    return page, 422 if faults else 200


def _previewed(place: LineupPlace) -> ResponseReturnValue:
    sent = request.files.get("table")
    try:
        draft = read_lineup_table(sent.read() if sent else b"")
    except InputError as error:
        return _asking(place, error)
    version = ""
    if place.lineup_id is not None:
        stored, seen = lineup_draft_of(db(), current_user.id, place.lineup_id)
        draft, version = with_ids(draft, stored), str(seen)
    return _preview_page(place, draft, version)


def _preview_page(
    place: LineupPlace,
    draft: LineupDraft,
    version: str,
    faults: InputError | None = None,
) -> ResponseReturnValue:
    changed = None
    if place.lineup_id is not None:
        stored, _ = lineup_draft_of(db(), current_user.id, place.lineup_id)
        changed = differences(stored, draft)
    form = SaveForm()
    form.draft.data, form.version.data = carry(draft), version
    page = render_template(
        "setup/import_preview.html",
        place=place,
        draft=draft,
        shown=preview_of(draft),
        changed=changed,
        form=form,
        faults=[one.message for one in faults.faults] if faults else (),
    )
    return page, 422 if faults else 200


def _saved(place: LineupPlace) -> ResponseReturnValue:
    form = SaveForm()
    draft = carried(form.draft.data or "")
    version = form.version.data or ""
    try:
        saved = save_lineup(
            db(),
            person_id=current_user.id,
            site_id=place.site_id,
            lineup_id=place.lineup_id,
            draft=draft,
            reason=form.reason.data or "",
            seen_version=int(version) if version.isdecimal() else None,
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        return _preview_page(place, draft, version, error)
    commit()
    flash(f"The lineup {draft.name} is saved.")
    return redirect(url_for(".lineup", lineup_id=saved), code=303)
