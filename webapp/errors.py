"""The one table that maps errors to HTTP status, and the pages and JSON for them."""

from flask import Flask, Response, jsonify, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, SecurityError

from models.errors import (
    ConflictError,
    CriteriaError,
    ForbiddenError,
    InputError,
    NotFoundError,
    RevokedTabletError,
    StoreError,
    WitnessmarkError,
)
from models.services.people.throttle import TooManyTriesError
from webapp.config import SettingError

STATUS: dict[type[WitnessmarkError], int] = {
    InputError: 422,
    TooManyTriesError: 429,
    ForbiddenError: 403,
    NotFoundError: 404,
    ConflictError: 409,
    CriteriaError: 500,
    StoreError: 500,
    SettingError: 500,
}


# What the library says of these helps nobody who sees a page.
IN_OUR_WORDS = {
    404: "There is no page at this address.",
    405: "This address is reached by a button of a page: go back and press it there.",
}


def status_of(error: WitnessmarkError) -> int:
    """Return the status of the error's family."""
    for family in type(error).__mro__:
        if family in STATUS:
            return STATUS[family]
    return 500


def wants_json() -> bool:
    """Return whether the caller is a program rather than a page."""
    return request.is_json or request.accept_mimetypes.best == "application/json"


def init_errors(app: Flask) -> None:
    """Answer every error raised on purpose, and those of HTTP itself."""

    @app.errorhandler(WitnessmarkError)
    def ours(error: WitnessmarkError) -> tuple[Response | str, int]:
        # A page says what is not there; its identifier says nothing to people.
        lost = isinstance(error, NotFoundError) and not wants_json()
        said = "What was asked for is not here." if lost else str(error)
        return answer(said, status_of(error), error)

    @app.errorhandler(CSRFError)
    def stale(_error: CSRFError) -> tuple[Response | str, int]:
        return answer(
            "The page had been open for too long, or you signed in again elsewhere. "
            "Load it again and repeat the last step.",
            400,
        )

    @app.errorhandler(SecurityError)
    def stranger(_error: SecurityError) -> Response:
        # A page would link to addresses under the name that is not ours.
        words = "This program is not reached under that name (WITNESSMARK_HOSTS).\n"
        return Response(words, status=400, mimetype="text/plain")

    @app.errorhandler(HTTPException)
    def http(error: HTTPException) -> tuple[Response | str, int] | Response:
        status = error.code or 500
        if status < 400:
            return Response(status=status)
        said = IN_OUR_WORDS.get(status) or error.description or error.name
        return answer(said, status)


def answer(
    message: str, status: int, error: WitnessmarkError | None = None
) -> tuple[Response | str, int]:
    """Return the error as JSON for programs, as a page for people."""
    faults = [
        {"field": f.field, "message": f.message}
        for f in (error.faults if isinstance(error, InputError) else ())
    ] or [{"field": "", "message": message}]
    if wants_json():
        state = {"state": "revoked"} if isinstance(error, RevokedTabletError) else {}
        return jsonify({"faults": faults, **state}), status
    return render_template(
        "error.html", status=status, message=message, faults=faults
    ), status
