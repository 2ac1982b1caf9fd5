"""Response headers: a strict content security policy and its company."""

from urllib.parse import urlsplit, urlunsplit

from flask import Flask, Response, request

POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' data: blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)

# Camera and wire are the field's alone; what nobody needs is closed everywhere.
CLOSED = "geolocation=(), microphone=(), usb=(), payment=()"
ELSEWHERE = f"camera=(), serial=(), {CLOSED}"
IN_THE_FIELD = f"camera=(self), serial=(self), {CLOSED}"
FIELD = ("/field/", "/a/")


def init_headers(app: Flask) -> None:
    """Set the headers on every response."""

    @app.after_request
    def add(response: Response) -> Response:
        headers = response.headers
        headers.setdefault("Content-Security-Policy", POLICY)
        headers.setdefault("X-Content-Type-Options", "nosniff")
        headers.setdefault("Referrer-Policy", "same-origin")
        in_the_field = request.path.startswith(FIELD)
        allowed = IN_THE_FIELD if in_the_field else ELSEWHERE
        headers.setdefault("Permissions-Policy", allowed)
        headers.setdefault("Cross-Origin-Opener-Policy", "same-origin")
        if request.endpoint != "static":
            headers.setdefault("Cache-Control", "no-store")
        if request.is_secure:
            headers.setdefault("Strict-Transport-Security", "max-age=31536000")
        if response.location:
            response.location = within(response.location)
        return response


def within(location: str) -> str:
    """Return the path of a redirect: it leads to this program and nowhere else.

    A redirect made while an address is looked up names the host that the request
    named, and that may be a stranger's.
    """
    _scheme, _host, path, query, fragment = urlsplit(location)
    return urlunsplit(("", "", f"/{path.lstrip('/')}", query, fragment))
