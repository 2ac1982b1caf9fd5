"""The service worker, and the page that it holds."""

from flask import Response

from webapp.field.routes import bp
from webapp.field.shell import shell
from webapp.field.shell_page import kept, shell_page


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
