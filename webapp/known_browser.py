"""Which names somebody has signed in under from this browser, by a signed cookie.

A tablet passes from hand to hand, so it holds several. The names are digests: the
cookie can be read, and is for nobody to read. It holds the site last worked on too, so
that work there can be stopped before anybody has signed in.
"""

import secrets
from hashlib import sha256
from typing import Any
from uuid import UUID

from flask import Response, current_app, g, request
from itsdangerous import BadSignature, URLSafeSerializer

LASTS_S = 400 * 24 * 3600  # what browsers keep at most
MOST_NAMES = 30  # a cookie holds 4 KB


def browser_of(name: str) -> str:
    """Return the browser's id if somebody has signed in as *name* from it, else ''."""
    known = _known()
    return known["id"] if _digest(name) in known["names"] else ""


def remember(name: str) -> None:
    """Let the answer of this request tell the browser that it is known to *name*."""
    known = _known()
    others = [one for one in known["names"] if one != _digest(name)]
    g.known_browser = {
        **known,
        "id": known["id"] or secrets.token_hex(16),
        "names": [*others, _digest(name)][-MOST_NAMES:],
    }


def remember_site(site_id: UUID) -> None:
    """Let the answer tell a browser that is known which site was last worked on."""
    known = _known()
    if known["id"]:
        g.known_browser = {**known, "site": str(site_id)}


def site_last_worked_on() -> UUID | None:
    """Return the site last worked on from this browser; None where it is not known."""
    site = _known().get("site")
    return UUID(site) if site else None


def known_id() -> str:
    """Return the browser's id if somebody has signed in from it, else ''."""
    return str(_known()["id"])


def send_remembered(response: Response) -> None:
    """Put what is remembered into the answer."""
    known = g.pop("known_browser", None)
    if known is not None:
        response.set_cookie(
            _cookie_name(),
            _serializer().dumps(known),
            max_age=LASTS_S,
            secure=current_app.config["SESSION_COOKIE_SECURE"],
            httponly=True,
            samesite="Lax",
        )


def _known() -> dict[str, Any]:
    """Return what this answer will tell the browser, else what the browser said."""
    if waiting := g.get("known_browser"):
        return dict(waiting)
    try:
        found = _serializer().loads(request.cookies.get(_cookie_name(), ""))
    except BadSignature:
        found = {"id": "", "names": []}
    return dict(found)


def _serializer() -> URLSafeSerializer:
    return URLSafeSerializer(str(current_app.secret_key), salt="known browser")


def _cookie_name() -> str:
    return f"{current_app.config['SESSION_COOKIE_NAME']}-browser"


def _digest(name: str) -> str:
    return sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:16]
