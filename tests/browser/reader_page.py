"""The modules of the tablet's reader, served as the program serves them.

The policy is that of the program: no script in a page.
"""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from models.procedures import PROCEDURES
from webapp.offline_modules import MADE

WEBAPP = Path(__file__).parents[2] / "webapp"
POLICY = "default-src 'self'; object-src 'none'; base-uri 'none'"


class _Files(SimpleHTTPRequestHandler):
    def do_GET(self) -> None:
        make = MADE.get(self.path.removeprefix("/offline/"))
        if make is not None:
            self._send(make())
        else:
            super().do_GET()

    def _send(self, module: str) -> None:
        self.send_response(200)
        self.send_header("Content-Type", "text/javascript; charset=utf-8")
        self.end_headers()
        self.wfile.write(module.encode())

    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", POLICY)
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:
        pass


@contextmanager
def reader_page(browser: Browser) -> Iterator[Page]:
    """Open a page on which `import("/offline/reader.js")` gives the reader."""
    handler = partial(_Files, directory=str(WEBAPP))
    with (
        ThreadingHTTPServer(("127.0.0.1", 0), handler) as server,
        browser.new_context() as context,
    ):
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        page = context.new_page()
        page.goto(f"http://127.0.0.1:{server.server_port}/offline/")
        yield page
        server.shutdown()
        thread.join()


def procedures_json() -> dict[str, dict[str, Any]]:
    """Return what the tablet's reader has to know of each procedure."""
    return {
        name: {
            "title": procedure.title,
            "units": list(procedure.units),
            "outcomes": list(procedure.outcomes),
            "signed": procedure.signed,
        }
        for name, procedure in PROCEDURES.items()
    }
