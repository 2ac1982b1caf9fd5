"""The demo: loaded once, started again, a reading recorded in it."""

import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from models.schema import Card, Round
from models.services.field.accept_entries import accept_entries
from seed_demo.crew import Member
from seed_demo.found import FOUND
from seed_demo.people import PASSWORD, SECOND, TECHNICIAN
from seed_demo.safety_walk import SafetyWalk
from tests.bench.asking import patched, sign_in
from tests.bench.measure import ROOT, Measured

SHIFT = timedelta(hours=7)  # of made-up work, in less time than that after the demo's
WARM_UP = 5  # readings that are not counted
PATIENCE_S = 30.0


class Shift:
    """The hours of a crew whose tablet had no signal: what it sends lies behind.

    So a discharge of an hour is waited for in no time.
    """

    def __init__(self) -> None:
        """Begin after the demo's last act."""
        self._began = time.monotonic()
        self._waited = timedelta(0)
        self._start = datetime.now(UTC) - SHIFT

    def moment(self) -> datetime:
        """Return the crew's time, each later than the last."""
        self.wait(0.001)
        spent = timedelta(seconds=time.monotonic() - self._began)
        return self._start + self._waited + spent

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        self._waited += timedelta(seconds=seconds)


def run() -> list[Measured]:
    """Measure loading, a later start to its first page, and recording a reading."""
    with tempfile.TemporaryDirectory() as folder:
        instance = {"WITNESSMARK_INSTANCE": folder}
        start = time.perf_counter()
        load_demo(instance)
        loaded = time.perf_counter() - start
        first_page = _first_page(instance)
        spent = _record(instance)
        durable = _durable_write(Path(folder))
    median, worst = statistics.median(spent), sorted(spent)[int(0.95 * len(spent))]
    return [
        Measured(bench="demo", what="load the demo", seconds=loaded),
        Measured(bench="demo", what="later start to first page", seconds=first_page),
        Measured(
            bench="record",
            what="a reading, median",
            seconds=median,
            ratio=median / durable,
            against="one durable write of the file system",
        ),
        Measured(
            bench="record",
            what="a reading, 95th percentile",
            seconds=worst,
            ratio=worst / median,
            against="its median",
        ),
    ]


def load_demo(instance: dict[str, str]) -> None:
    """Load the demo into the instance that these variables name."""
    command = [sys.executable, "-m", "webapp.cli", "demo", "--load-only"]
    subprocess.run(
        command,
        cwd=ROOT,
        env={**os.environ, **instance, "PYTHONPATH": str(ROOT)},
        check=True,
        stdout=subprocess.DEVNULL,
    )


@contextmanager
def _served(instance: dict[str, str]) -> Iterator[str]:
    """Serve the demo as `make demo` does; yield its address, before it answers."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "webapp.cli", "demo", "--port", str(port)]
    server = subprocess.Popen(
        command,
        cwd=ROOT,
        env={**os.environ, **instance, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
    )
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.terminate()
        server.wait()


def _first_page(instance: dict[str, str]) -> float:
    start = time.perf_counter()
    with _served(instance) as address:
        while time.perf_counter() - start < PATIENCE_S:
            try:
                with urllib.request.urlopen(f"{address}/account/sign-in", timeout=5):
                    return time.perf_counter() - start
            except OSError:
                time.sleep(0.02)
    raise TimeoutError("the demo did not answer")


def _record(instance: dict[str, str]) -> list[float]:
    """Return the seconds of each request that stores one reading.

    Every free point of the demo's open rounds is read once, as a crew would.
    """
    with patched(instance):
        from webapp import create_app
        from webapp.config import load_config

        app = create_app(load_config())
        shift = Shift()
        with app.test_client() as client:
            sign_in(client, TECHNICIAN.sign_in, PASSWORD)
            spent = [
                seconds
                for address in _open_rounds(client)
                for seconds in _record_round(
                    client, address, app.extensions["engine"], shift
                )
            ]
        app.extensions["engine"].dispose()
    return spent[WARM_UP:]


def _record_round(
    client: Any, address: str, engine: Engine, shift: Shift
) -> Iterator[float]:
    document = client.get(f"{address}document.json").get_json()
    with _crew(engine, document["round"]["id"], shift) as walk:
        for card in document["cards"]:  # what the demo's crew left half done
            walk.finish(walk.session.get_one(Card, UUID(card["id"])), walk.crew[0])
    for card in document["cards"]:
        read = {reading["point_id"] for reading in card["readings"]}
        free = [point for point in card["points"] if point["id"] not in read]
        fitting = [
            one
            for one in document["instruments"]
            if card["procedure"] in one["procedures"]
        ]
        held = any(o["kind"] == "hold" and not o["answer"] for o in card["inspections"])
        if card["state"] == "signed" or held or not free or not fitting:
            continue
        with _crew(engine, document["round"]["id"], shift) as walk:
            own = walk.session.get_one(Card, UUID(card["id"]))
            walk.open(own, walk.crew[0])
        for point in free:
            entry = _reading(document, card, point, fitting[-1], shift.moment())
            start = time.perf_counter()
            answers = _send(client, address, [entry])
            yield time.perf_counter() - start
            if answers[0]["status"] != "stored":
                raise RuntimeError(f"not stored: {answers[0]['faults']}")
        with _crew(engine, document["round"]["id"], shift) as walk:
            own = walk.session.get_one(Card, UUID(card["id"]))
            walk.finish(own, walk.crew[0])


@contextmanager
def _crew(engine: Engine, round_id: str, shift: Shift) -> Iterator[SafetyWalk]:
    """Give the crew that says what stands between a card and a reading."""
    first, second = (Member(id=one.id, name=one.name) for one in (TECHNICIAN, SECOND))
    with Session(engine) as session:

        def send(by: UUID, acts: list[dict[str, Any]]) -> None:
            answers = accept_entries(
                session,
                person_id=by,
                round_id=UUID(round_id),
                device="bench",
                entries=acts,
                now=datetime.now(UTC),
            )
            refused = [one["faults"] for one in answers if one["status"] != "stored"]
            if refused:
                raise RuntimeError(f"not stored: {refused}")

        yield SafetyWalk(
            session,
            UUID(round_id),
            crew=(first, second),
            found=FOUND[session.get_one(Round, UUID(round_id)).lineup.name],
            send=send,
            moment=shift.moment,
            wait=shift.wait,
        )
        session.commit()


def _open_rounds(client: Any) -> list[str]:
    """Return the addresses of the rounds; those turned over take no entries."""
    page = client.get("/field/").get_data(as_text=True)
    addresses = dict.fromkeys(re.findall(r"/field/rounds/[0-9a-f-]{36}/", page))
    return [
        address
        for address in addresses
        if client.get(f"{address}document.json").get_json()["round"]["state"] == "open"
    ]


def _send(client: Any, address: str, entries: list[dict[str, Any]]) -> Any:
    token = client.get("/field/csrf.json").get_json()["token"]
    answer = client.post(
        f"{address}entries",
        json={"device": "bench", "entries": entries},
        headers={"X-CSRFToken": token},
    )
    return answer.get_json()["results"]


def _entry(card: dict[str, Any], kind: str, **fields: Any) -> dict[str, Any]:
    return {
        "key": str(uuid4()),
        "kind": kind,
        "card_id": card["id"],
        "at": datetime.now(UTC).isoformat(),
        **fields,
    }


def _reading(
    document: dict[str, Any],
    card: dict[str, Any],
    point: dict[str, Any],
    instrument: dict[str, Any],
    at: datetime,
) -> dict[str, Any]:
    procedure = document["procedures"][card["procedure"]]
    outcome = "held" if "held" in procedure["outcomes"] else None
    asked = {ask["name"] for ask in procedure["asks"]}
    return _entry(
        card,
        "reading",
        point_id=point["id"],
        text=outcome or "42",
        unit=None if outcome else card["unit"],
        conditions={} if outcome else dict.fromkeys(asked & {"temperature_c"}, 21),
        instrument_id=instrument["id"],
        at=at.isoformat(),
    )


def _durable_write(folder: Path) -> float:
    """Return the median seconds of a 4 KiB write that reaches the disk."""
    spent = []
    with (folder / "durable").open("wb") as file:
        for _ in range(50):
            start = time.perf_counter()
            file.write(bytes(4096))
            file.flush()
            os.fsync(file.fileno())
            spent.append(time.perf_counter() - start)
    return statistics.median(spent)
