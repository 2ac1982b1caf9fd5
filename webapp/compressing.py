"""Answers in gzip (RFC 1952): files and text above 1 kB, where the browser takes it.

An answer that carries a form's token is sent as it is: a secret beside what others
wrote can be read from the length of what is compressed (docs/security.md).
"""

import gzip
from threading import Lock

from flask import Flask, Response, g, request

SMALLEST = 1024  # bytes of what is made for one request: less is not worth the time
TEXTS = {
    "text/html",
    "text/css",
    "text/javascript",
    "application/json",
    "application/manifest+json",
    "image/svg+xml",
}
BY_THE_WAY = 5  # level for what is made for one request
ONCE = 9  # level for files
FILES = (  # the same for everybody
    "static",
    "offline_file",
    "field.program_script",
    "field.program_sheet",
)
FORM_FIELD = "csrf_token"  # in `g` once the answer carries a form's token


class Compressed:
    """The program's own files, each compressed once."""

    def __init__(self) -> None:
        """Hold none yet."""
        self._held: dict[str, tuple[str, bytes]] = {}
        self._lock = Lock()

    def of(self, path: str, etag: str, plain: bytes) -> bytes:
        """Return a file in gzip; compressed anew once its ETag is another."""
        with self._lock:
            known = self._held.get(path)
        if known and known[0] == etag:
            return known[1]
        made = gzip.compress(plain, ONCE, mtime=0)
        with self._lock:
            self._held[path] = (etag, made)
        return made


def init_compressing(app: Flask) -> None:
    """Compress what may be compressed."""
    files = Compressed()

    @app.after_request
    def compress(response: Response) -> Response:
        if response.mimetype not in TEXTS or FORM_FIELD in g:
            return response
        response.vary.add("Accept-Encoding")
        if not _wanted(response):
            return response
        response.direct_passthrough = False
        plain = response.get_data()
        if len(plain) >= SMALLEST or request.endpoint in FILES:
            _put(response, files, plain)
        return response


def _put(response: Response, files: Compressed, plain: bytes) -> None:
    etag, _weak = response.get_etag()
    if etag and request.endpoint in FILES:
        made = files.of(request.path, etag, plain)
    else:
        made = gzip.compress(plain, BY_THE_WAY, mtime=0)
    if len(made) >= len(plain):
        return
    response.set_data(made)
    response.headers["Content-Encoding"] = "gzip"
    if etag:  # the same content in other bytes: RFC 9110, 8.8.1
        response.set_etag(etag, weak=True)


def _wanted(response: Response) -> bool:
    whole = response.status_code == 200 and "Content-Range" not in response.headers
    plain = "Content-Encoding" not in response.headers
    read_at_once = response.direct_passthrough or not response.is_streamed
    takes = request.accept_encodings.quality("gzip") > 0
    return whole and plain and read_at_once and takes and request.method == "GET"
