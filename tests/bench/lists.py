"""The lists and the gear book of a large record: queries and seconds of a page.

Seconds are the processor's: on a machine that does other things too, those of a
clock say more of them than of the page.
"""

import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from uuid import UUID

from sqlalchemy import event, func, select
from sqlalchemy.orm import Session

from models.schema import Reading, Round
from models.schema.engine import make_engine
from tests.bench import large
from tests.bench.asking import patched, sign_in
from tests.bench.measure import Measured
from tests.scenario import LEAD, OWNER, PASSWORD
from webapp.migrating import migrate

WANTED = {
    "gear book of 3 rounds": "at most 0.12 s",
    "gear book of 20 rounds": "at most 0.25 s",
}
TIMES = 9  # each page is asked for; the best counts


def run() -> list[Measured]:
    """Measure every list page, and gear books of three and of twenty rounds."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        migrate(url)
        engine = make_engine(url)
        with Session(engine) as session:
            three, twenty, *_ = large.fill(session)
            rounds = session.scalar(select(func.count()).select_from(Round))
            readings = session.scalar(select(func.count()).select_from(Reading))
        engine.dispose()
        said = f"{rounds} rounds, {readings:,} readings"
        return list(_measured(folder, url, said, three, twenty))


def _measured(
    folder: str, url: str, said: str, three: UUID, twenty: UUID
) -> Iterator[Measured]:
    pages = {
        "/turnover/": LEAD,
        "/turnover/?words=MV-115": LEAD,
        "/turnover/?page=9": LEAD,
        "/turnover/cards": LEAD,
        "/turnover/cards?words=MV-115&state=signed": LEAD,
        "/turnover/deficiencies": LEAD,
        "/field/": LEAD,
        "/owner/": OWNER,
        f"/owner/lineups/{three}": OWNER,
        f"/owner/lineups/{twenty}": OWNER,
    }
    names = {
        f"/owner/lineups/{three}": "gear book of 3 rounds",
        f"/owner/lineups/{twenty}": "gear book of 20 rounds",
    }
    with patched({"WITNESSMARK_INSTANCE": folder, "WITNESSMARK_DATABASE": url}):
        from webapp import create_app
        from webapp.config import load_config

        app = create_app(load_config())
        for address, person in pages.items():
            with app.test_client() as client:
                sign_in(client, person.sign_in, PASSWORD)
                seconds, queries = asked(app, client, address)
            name = names.get(address, address)
            yield Measured(
                bench="lists",
                what=f"{name}: {queries} queries",
                seconds=seconds,
                against=said,
                wanted=WANTED.get(name, "at most 6 queries, 0.15 s"),
            )
        app.extensions["engine"].dispose()


def asked(app: Any, client: Any, address: str) -> tuple[float, int]:
    """Return the least seconds of a page, and how many queries it takes."""
    client.get(address)
    spent = []
    with counted(app.extensions["engine"]) as statements:
        for _ in range(TIMES):
            start = time.process_time()
            answer = client.get(address)
            spent.append(time.process_time() - start)
            if answer.status_code != 200:
                raise RuntimeError(f"{address} answers {answer.status_code}")
    return min(spent), len(statements) // TIMES


@contextmanager
def counted(engine: Any) -> Iterator[list[str]]:
    """Collect the statements that are sent meanwhile."""
    statements: list[str] = []

    def note(_conn: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        if not statement.startswith("BEGIN"):
            statements.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    try:
        yield statements
    finally:
        event.remove(engine, "before_cursor_execute", note)
