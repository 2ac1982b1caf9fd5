"""The link of an invitation: made, and shown once, as text and as a QR code."""

import secrets

import segno
from flask import current_app, render_template, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from models.services.people.invitations import Invited

BYTES = 32  # by chance: 43 characters


def new_token() -> str:
    """Return what makes a link: nobody guesses it."""
    return secrets.token_urlsafe(BYTES)


def show_link(made: Invited, token: str) -> ResponseReturnValue:
    """Return the page that shows the link; it is kept nowhere."""
    https = current_app.extensions["witnessmark"].https
    address = url_for(
        "people.ask_enrolment",
        token=token,
        _external=True,
        _scheme="https" if https else request.scheme,
    )
    code = segno.make_qr(address, error="m").svg_inline(
        omitsize=True, dark="#000", light="#fff", border=4
    )
    # Made by the library from an address of ours: paths and numbers alone.
    drawn = Markup(code)  # noqa: S704
    return render_template("people/link.html", made=made, address=address, code=drawn)
