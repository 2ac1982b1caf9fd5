"""The editor of a lineup: its page, and what the page asks while one enters."""

import json
from typing import Any
from uuid import UUID

from flask import Response, jsonify, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user
from flask_wtf.csrf import generate_csrf

from models.errors import Fault, InputError
from models.record.lineup_draft import draft_json
from models.services.setup import sites as site_services
from models.services.setup.starting_points import Answers, lay_out
from webapp.db import db
from webapp.setup.routes import bp
from webapp.setup.vocabulary import vocabulary

ASKED = ("name", "row", "rated_a", "repeated", "prefix")


@bp.get("/vocabulary.js")
def vocabulary_module() -> ResponseReturnValue:
    """Send what the editor has to know, as a module that a browser keeps."""
    text = json.dumps(vocabulary(), ensure_ascii=False)
    response = Response(f"export default {text};\n", mimetype="text/javascript")
    response.headers["Cache-Control"] = "no-cache"
    response.add_etag()
    response.make_conditional(request)
    return response


@bp.get("/sites/<uuid:site_id>/lineups/new")
def new_lineup(site_id: UUID) -> ResponseReturnValue:
    """Show the editor with an empty floor."""
    site = site_services.site_summary(db(), person_id=current_user.id, site_id=site_id)
    return render_template(
        "setup/editor.html",
        site=site,
        lineup=None,
        editor=_editor(
            keep=f"{current_user.id}:new:{site_id}",
            save=url_for(".new_lineup", site_id=site_id),
        ),
    )


@bp.post("/lineups/starting-point")
def starting_point() -> ResponseReturnValue:
    """Answer with the draft that a starting point gives."""
    sent = request.get_json(silent=True)
    body: dict[str, Any] = sent if isinstance(sent, dict) else {}
    said = body.get("answers")
    answers = said if isinstance(said, dict) else {}
    texts = {name: answers.get(name, "") for name in ASKED}
    wrong = [name for name, text in texts.items() if not isinstance(text, str)]
    if wrong:
        raise InputError(
            *(Fault(field=name, message="Write a text.") for name in wrong)
        )
    draft = lay_out(str(body.get("point", "")), Answers(**texts))
    return jsonify({"draft": draft_json(draft)})


def _editor(
    *,
    keep: str,
    save: str,
    draft: dict[str, Any] | None = None,
    version: int | None = None,
    needs_reason: bool = False,
) -> dict[str, Any]:
    """Return what the page is given; *keep* names the drawer on the device."""
    return {
        "draft": draft,
        "version": version,
        "needsReason": needs_reason,
        "keep": keep,
        "token": generate_csrf(),
        "addresses": {
            "save": save,
            "start": url_for(".starting_point"),
        },
    }
