"""Answers that a browser keeps, and asks whether they have changed."""

from flask import Response, request

from webapp.field.shell import shell


def shell_page() -> Response:
    """Return the page of the field application, the same for everybody."""
    return kept(Response(shell().html(), mimetype="text/html"))


def kept(response: Response) -> Response:
    """Return the answer with its tag; nothing of it where the browser has it."""
    response.headers["Cache-Control"] = "no-cache"
    response.add_etag()
    response.make_conditional(request)
    return response
