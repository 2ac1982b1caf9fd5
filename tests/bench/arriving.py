"""A tablet's thousand readings over real HTTP on loopback, photographs, and polling.

The acts of safety that opened the cards were sent before; of 35 buses, breakers and
relays in one round every reading waits, in its order.
"""

import json
import os
import tempfile
import threading
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from io import BytesIO
from math import prod
from pathlib import Path
from statistics import quantiles
from typing import Any
from uuid import UUID

from PIL import Image
from sqlalchemy import text
from sqlalchemy.orm import Session

from models.schema.engine import make_engine
from models.services.field.accept_entries import accept_entries
from tests.bench.day import Day
from tests.bench.large import quick_secrets
from tests.bench.measure import Measured
from tests.bench.tablet import EVERY_S, Tablet, insist, processor, served
from tests.browser.conftest import calibrate_until_now
from tests.scenario import APPARATUS, TECHNICIAN, Work, build
from webapp.migrating import migrate

SETS = 35  # 32 points each
PARTS = (100, 200, 400)  # as the tablet sends them: outbox.js
ALONE = 15  # of the readings, sent one by one beside the photographs
PHOTOGRAPHS, PHOTOGRAPH_PX = 20, (1600, 1200)
TABLETS, POLLED_S = 50, 15.0


def run() -> list[Measured]:
    """Measure the readings, those beside photographs, and the polling of tablets."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        round_id, readings = prepared(url)
        with served(url, folder) as (port, server):
            return list(_measured(port, server, round_id, readings))


def _measured(
    port: int, server: int, round_id: UUID, readings: list[Any]
) -> Iterator[Measured]:
    tablet = Tablet.signed_in(port, round_id)
    many, few = readings[:-ALONE], readings[-ALONE:]
    begun, start = processor(server), time.perf_counter()
    for part in in_parts(many):
        tablet.send(part)
    seconds = time.perf_counter() - start
    what = f"{len(many):,} queued readings"
    yield _line(what, seconds=seconds, wanted="under 5 s")
    spent = processor(server) - begun
    yield _line(f"{what}, processor of the server", seconds=spent)
    delays = beside_photographs(tablet, Tablet.signed_in(port, round_id), few)
    yield _line(
        f"a reading beside {PHOTOGRAPHS} photographs, worst",
        seconds=max(delays),
        against=f"{ALONE} readings",
        wanted="at most 1 s",
    )
    yield from _polled(port, server, round_id)


def _line(what: str, **measured: Any) -> Measured:
    return Measured(bench="arriving", what=what, **measured)


def in_parts(entries: list[Any]) -> Iterator[list[Any]]:
    """Yield the entries as the outbox sends them."""
    at, number = 0, 0
    while at < len(entries):
        size = PARTS[min(number, len(PARTS) - 1)]
        yield entries[at : at + size]
        at, number = at + size, number + 1


# The round, its acts stored, its readings still to come


def prepared(url: str) -> tuple[UUID, list[Any]]:
    """Return a round whose cards were opened, and the readings of its tablet."""
    migrate(url)
    engine = make_engine(url)
    every = [(k, f"{name} {at}", p) for at in range(SETS) for k, name, p in APPARATUS]
    with quick_secrets(), Session(engine, expire_on_commit=False) as session:
        build(session, every)
        calibrate_until_now(session)
        began = datetime.now(UTC) - timedelta(hours=41)
        round_id = Work.begin(session, at=began).round_id
        session.commit()
        queue = Day(session, round_id).work()
        for part in in_parts(queue):
            _store(session, round_id, part)
        _take_readings_out(session)
        session.commit()
    engine.dispose()
    return round_id, [entry for entry in queue if entry["kind"] == "reading"]


def _store(session: Session, round_id: UUID, entries: Sequence[Any]) -> None:
    answers = accept_entries(
        session,
        person_id=TECHNICIAN.id,
        round_id=round_id,
        device="tablet of the bench",
        entries=entries,
        now=datetime.now(UTC),
    )
    session.commit()
    insist(answers)


def _take_readings_out(session: Session) -> None:
    """Leave the acts alone: some were only taken because of readings before them."""
    found = session.execute(
        text(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND "
            "tbl_name IN ('reading', 'judgement', 'receipt')"
        )
    )
    triggers = found.all()
    for name, _ in triggers:
        session.execute(text(f"DROP TRIGGER {name}"))
    for table in ("judgement", "reading", "receipt"):
        session.execute(text(f"DELETE FROM {table}"))
    for _, made in triggers:
        session.execute(text(made))


# Beside others


def beside_photographs(
    tablet: Tablet, other: Tablet, readings: Sequence[Any]
) -> list[float]:
    """Return the seconds of each reading while another connection sends photographs."""
    pictures = [picture() for _ in range(PHOTOGRAPHS)]
    card = readings[0]["card_id"]
    sending = threading.Thread(
        target=lambda: [other.send_photograph(card, one) for one in pictures]
    )
    sending.start()
    spent = []
    for one in readings:
        start = time.perf_counter()
        tablet.send([one])
        spent.append(time.perf_counter() - start)
        time.sleep(0.1)
    sending.join()
    return spent


def _polled(port: int, server: int, round_id: UUID) -> Iterator[Measured]:
    """Measure what TABLETS tablets in front ask of the server, where nothing is new."""
    first = Tablet.signed_in(port, round_id)
    document = json.loads(first.ask("GET", f"{first.round}/document.json"))
    known = f"safety={document['safety']['cursor']}&cards={document['cards_cursor']}"
    tablets = [Tablet.same(first, port) for _ in range(TABLETS)]
    begun, ends = processor(server), time.perf_counter() + POLLED_S
    with ThreadPoolExecutor(TABLETS) as pool:
        asked = pool.map(
            lambda one: one.poll(f"{known}&device=t{id(one)}", ends), tablets
        )
        spent = [seconds for each in asked for seconds in each]
    each = (processor(server) - begun) / len(spent)
    who = f"{TABLETS} tablets that ask every {EVERY_S} s"
    yield _line(f"{who}: requests/s", value=len(spent) / POLLED_S, unit="1/s")
    yield _line(f"{who}: 95 in 100 answers", seconds=quantiles(spent, n=20)[18])
    yield _line(f"{who}: processor of an answer", seconds=each)


def picture() -> bytes:
    """Return a JPEG of about half a megabyte."""
    noise = Image.frombytes("RGB", PHOTOGRAPH_PX, os.urandom(3 * prod(PHOTOGRAPH_PX)))
    target = BytesIO()
    noise.save(target, "JPEG", quality=15)
    return target.getvalue()
