"""Compare nameplates with the metal ones, and confirm them."""

from collections.abc import Sequence
from itertools import groupby
from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.setup.confirm_plates import PlateShown, confirm_plates, plates_of
from models.services.setup.things import thing
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.gear.routes import bp


@bp.get("/lineups/<uuid:lineup_id>/plates")
def plates(lineup_id: UUID) -> ResponseReturnValue:
    """Show the nameplates of a lineup, to be compared with the metal ones."""
    found = plates_of(db(), person_id=current_user.id, lineup_id=lineup_id)
    return render_template(
        "gear/plates.html",
        lineup_id=lineup_id,
        lineup=found[0],
        parts=_parts(found),
        waiting=[one for one in found if not one.confirmed_by],
        may=current_user.has_role("technician", "lead", "owner", "administrator"),
    )


def _parts(found: Sequence[PlateShown]) -> list[tuple[str, list[PlateShown]]]:
    """Return the plates cell by cell, those first where one waits."""
    parts = [(cell, list(own)) for cell, own in groupby(found, lambda one: one.cell)]
    return sorted(parts, key=lambda part: all(one.confirmed_by for one in part[1]))


@bp.post("/lineups/<uuid:lineup_id>/plates")
def confirm(lineup_id: UUID) -> ResponseReturnValue:
    """Confirm the nameplates that are ticked."""
    plates_of(db(), person_id=current_user.id, lineup_id=lineup_id)  # is it theirs?
    return _confirm(url_for(".plates", lineup_id=lineup_id))


@bp.post("/things/<uuid:apparatus_id>/plate")
def confirm_one(apparatus_id: UUID) -> ResponseReturnValue:
    """Confirm the nameplate of one apparatus."""
    thing(db(), person_id=current_user.id, apparatus_id=apparatus_id)
    return _confirm(url_for(".thing", apparatus_id=apparatus_id))


def _confirm(back: str) -> ResponseReturnValue:
    ticked = [_id(text) for text in request.form.getlist("version")]
    count = confirm_plates(
        db(),
        person_id=current_user.id,
        version_ids=[one for one in ticked if one],
        now=now(),
        new_id=new_id,
    )
    commit()
    plates = "nameplate is" if count == 1 else "nameplates are"
    flash(f"{count} {plates} confirmed." if ticked else "Tick what you compared.")
    return redirect(back, code=303)


def _id(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None
