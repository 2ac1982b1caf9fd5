"""The modules of the tablet's reader, served as the program serves them.

The policy is that of the program: no script in a page.
"""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import Browser, Page

WEBAPP = Path(__file__).parents[2] / "webapp"
POLICY = "default-src 'self'; object-src 'none'; base-uri 'none'"


class _Files(SimpleHTTPRequestHandler):
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
