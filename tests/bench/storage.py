"""What the demo stores for a reading, on SQLite and on PostgreSQL.

Readings, their verdicts, points and rules, confirmations, acts of safety, receipts and
the log, with their indexes; not packages. What was signed is kept letter by letter and
given apart.
"""

import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from sqlalchemy import Connection, text

from models.schema.engine import make_engine
from tests import postgres
from tests.bench.demo import load_demo
from tests.bench.measure import Measured

COUNTED = (
    "reading",
    "judgement",
    "point",
    "rule",
    "confirmed_together",
    "precondition_list",
    "precondition_text",
    "safety_act",
    "receipt",
    "log_entry",
)
SIGNED = ("signature",)
ON_SQLITE = (
    "SELECT s.tbl_name, SUM(d.pgsize) FROM dbstat AS d "
    "JOIN sqlite_master AS s ON s.name = d.name GROUP BY 1"
)
ON_POSTGRES = "SELECT relname, pg_total_relation_size(oid) FROM pg_class"


def run() -> list[Measured]:
    """Load the demo on both databases, and weigh their tables."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        lines = list(_weighed("SQLite", url, folder))
    if postgres.available():
        with tempfile.TemporaryDirectory() as folder, postgres.server() as url:
            lines += _weighed("PostgreSQL", url, folder)
    return lines


def _weighed(name: str, url: str, folder: str) -> Iterator[Measured]:
    load_demo({"WITNESSMARK_INSTANCE": folder, "WITNESSMARK_DATABASE": url})
    engine = make_engine(url)
    with engine.connect() as connection:
        sqlite = engine.dialect.name == "sqlite"
        rows = connection.execute(text(ON_SQLITE if sqlite else ON_POSTGRES))
        sizes = {str(table): int(size) for table, size in rows}
        yield _line(connection, sizes, COUNTED, f"a reading, {name}", "at most 3 kB")
        yield _line(connection, sizes, SIGNED, f"what was signed, {name}", "")
        for table in COUNTED:
            yield _line(connection, sizes, (table,), f"of it {table}, {name}", "")
    engine.dispose()


def _line(
    connection: Connection,
    sizes: Mapping[str, int],
    tables: tuple[str, ...],
    what: str,
    wanted: str,
) -> Measured:
    readings = connection.execute(text("SELECT COUNT(*) FROM reading")).scalar_one()
    return Measured(
        bench="storage",
        what=what,
        value=sum(sizes[table] for table in tables) / readings / 1000,
        unit="kB",
        wanted=wanted,
    )
