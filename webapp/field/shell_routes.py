"""The service worker, and the page that it holds."""

from flask import Response, redirect
from flask.typing import ResponseReturnValue

from webapp.field.program import Program, program
from webapp.field.routes import bp
from webapp.field.shell import shell
from webapp.field.shell_page import kept, shell_page

A_YEAR_S = 365 * 86400


@bp.get("/tablet")
def tablet_page() -> Response:
    """Show what is on this tablet; the page itself says nothing of anybody."""
    return shell_page()


@bp.get("/worker.js")
def service_worker() -> Response:
    """Send the service worker; it may answer for every address."""
    response = kept(Response(shell().worker(), mimetype="text/javascript"))
    response.headers["Service-Worker-Allowed"] = "/"
    return response


@bp.get("/program-<name>.js")
def program_script(name: str) -> ResponseReturnValue:
    """Send the joined script; a page whose own is gone is sent on to today's."""
    made, address = program(), f"/field/program-{name}.js"
    return _joined(made, address, "text/javascript") or redirect(made.script)


@bp.get("/program-<name>.css")
def program_sheet(name: str) -> ResponseReturnValue:
    """Send the joined style sheet; a page whose own is gone is sent on to today's."""
    made, address = program(), f"/field/program-{name}.css"
    return _joined(made, address, "text/css") or redirect(made.sheet)


def _joined(made: Program, address: str, mimetype: str) -> Response | None:
    if address not in made.texts:
        return None
    response = kept(Response(made.texts[address], mimetype=mimetype))
    response.headers["Cache-Control"] = f"public, max-age={A_YEAR_S}, immutable"
    return response
