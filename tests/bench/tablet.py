"""The program as it is served, and a tablet that asks it over HTTP."""

import hashlib
import json
import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from urllib.parse import urlencode
from uuid import UUID, uuid4

from tests.bench.measure import ROOT
from tests.scenario import PASSWORD, SECRET, TECHNICIAN

PART = 256 * 1024  # bytes of a photograph in one call
EVERY_S = 1.5  # a tablet in front asks for news
PATIENCE_S = 60.0


def insist(answers: Sequence[Any]) -> None:
    """Raise RuntimeError where an entry was not stored."""
    refused = [one["faults"] for one in answers if one["status"] != "stored"]
    if refused:
        raise RuntimeError(f"{len(refused)} not stored: {refused[:2]}")


@contextmanager
def served(url: str, folder: str) -> Iterator[tuple[int, int]]:
    """Serve the program; yield its port and its process."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    own = {"WITNESSMARK_DATABASE": url, "WITNESSMARK_INSTANCE": folder}
    server = subprocess.Popen(
        [sys.executable, "-m", "webapp.cli", "serve", "--port", str(port)],
        cwd=ROOT,
        env={
            **os.environ,
            **own,
            "WITNESSMARK_SECRET": SECRET,
            "PYTHONPATH": str(ROOT),
        },
        stdout=subprocess.DEVNULL,
    )
    try:
        _wait_for(port)
        yield port, server.pid
    finally:
        server.terminate()
        server.wait()


def _wait_for(port: int) -> None:
    start = time.perf_counter()
    while time.perf_counter() - start < PATIENCE_S:
        try:
            with socket.create_connection(("127.0.0.1", port), timeout=1):
                return
        except OSError:
            time.sleep(0.05)
    raise TimeoutError("the program did not answer")


def processor(process: int) -> float:
    """Return the processor seconds that a process has spent (Linux; else 0)."""
    path = Path(f"/proc/{process}/stat")
    if not path.exists():
        return 0.0
    fields = path.read_text("utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


class Tablet:
    """A browser that is signed in, on one connection."""

    def __init__(self, port: int, address: str) -> None:
        """*address*: of the round."""
        self.round = address
        self._to = HTTPConnection("127.0.0.1", port, timeout=120)
        self._cookie = ""

    @classmethod
    def same(cls, other: "Tablet", port: int) -> "Tablet":
        """Return another page of a tablet, signed in by the same session."""
        made = cls(port, other.round)
        made._cookie = other._cookie
        return made

    @classmethod
    def signed_in(cls, port: int, round_id: UUID) -> "Tablet":
        """Return a tablet on which somebody signed in."""
        made = cls(port, f"/field/rounds/{round_id}")
        made._sign_in()
        return made

    def _sign_in(self) -> None:
        page = self.ask("GET", "/account/sign-in").decode()
        found = re.search(r'name="csrf_token"[^>]*value="([^"]+)"', page)
        form = {"sign_in": TECHNICIAN.sign_in, "password": PASSWORD}
        token = found[1] if found else ""
        body = urlencode({**form, "csrf_token": token}).encode()
        kind = "application/x-www-form-urlencoded"
        self.ask("POST", "/account/sign-in", body, {"Content-Type": kind})

    def ask(
        self,
        method: str,
        address: str,
        body: bytes | None = None,
        headers: dict[str, str] | None = None,
    ) -> bytes:
        """Return the body of the answer; RuntimeError for one that is no success."""
        own = {"Cookie": self._cookie, "Accept": "application/json"}
        self._to.request(method, address, body, own | (headers or {}))
        answer = self._to.getresponse()
        found = answer.read()
        for cookie in answer.headers.get_all("Set-Cookie") or ():
            self._cookie = cookie.partition(";")[0]
        if answer.status >= 400:
            raise RuntimeError(f"{address} answers {answer.status}: {found[:300]!r}")
        return found

    def post(self, address: str, body: bytes, kind: str) -> Any:
        """Post with a fresh token, as the tablet does; return the answer's JSON."""
        token = json.loads(self.ask("GET", "/field/csrf.json"))["token"]
        headers = {"Content-Type": kind, "X-CSRFToken": token}
        return json.loads(self.ask("POST", address, body, headers))

    def send(self, entries: Sequence[Any]) -> None:
        """Send entries; each is to be stored."""
        said = {"device": "tablet of the bench", "entries": entries}
        body = json.dumps(said).encode()
        answer = self.post(f"{self.round}/entries", body, "application/json")
        insist(answer["results"])

    def send_photograph(self, card: str, content: bytes) -> None:
        """Send a photograph in parts."""
        photo = uuid4()
        said = _photograph(photo, card, content)
        where = f"{self.round}/photos"
        self.post(where, json.dumps(said).encode(), "application/json")
        for at in range(0, len(content), PART):
            part = content[at : at + PART]
            kind = "application/octet-stream"
            self.post(f"/field/photos/{photo}?from={at}", part, kind)

    def poll(self, known: str, ends: float) -> list[float]:
        """Ask for news every EVERY_S until then; return the seconds of each answer."""
        spent = []
        while (start := time.perf_counter()) < ends:
            self.ask("GET", f"{self.round}/news.json?{known}")
            spent.append(time.perf_counter() - start)
            time.sleep(max(0.0, EVERY_S - spent[-1]))
        return spent


def _photograph(photo: UUID, card: str, content: bytes) -> dict[str, Any]:
    return {
        "photo": str(photo),
        "card_id": card,
        "at": datetime.now(UTC).isoformat(),
        "size": len(content),
        "digest": hashlib.sha256(content).hexdigest(),
        "name": f"{photo}.jpg",
        "note": "",
        "marks": [],
    }
