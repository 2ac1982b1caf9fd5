"""Until the first person is there, every page leads to the set-up."""

from flask import Flask, jsonify, redirect, request
from flask.typing import ResponseReturnValue

from models.services.people.first_start import has_people
from webapp.db import open_session
from webapp.errors import wants_json

# An address, not an endpoint: it is asked for before the host is known to be ours.
SET_UP = "/start/set-up"
OPEN = {"static", "favicon"}
DONE = "set_up"  # once there is somebody there is always somebody


def init_set_up_first(app: Flask) -> None:
    """Ask before each request, until it is done."""

    @app.before_request
    def lead_to_set_up() -> ResponseReturnValue | None:
        endpoint = request.endpoint or ""
        if endpoint in OPEN or _done(app) or request.path.startswith(SET_UP):
            return None
        return _answer()


def _done(app: Flask) -> bool:
    if not app.extensions.get(DONE):
        with open_session(reading=True) as rows:
            app.extensions[DONE] = has_people(rows)
    return bool(app.extensions[DONE])


def _answer() -> ResponseReturnValue:
    if wants_json():
        message = "This installation is not set up yet."
        return jsonify({"faults": [{"field": "", "message": message}]}), 409
    return redirect(SET_UP, code=303)
