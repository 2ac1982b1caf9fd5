"""Engines that behave alike on SQLite and PostgreSQL."""

import threading
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event

from models.schema.written import write

# SQLite admits one writer; without a lock of our own, writers of one process
# starve each other while they poll the file.
WRITE_LOCK = threading.RLock()
BUSY_MS = 10_000
SYNCHRONOUS = "FULL"  # a commit of SQLite survives the loss of power


def make_engine(url: str, *, migrating: bool = False) -> Engine:
    """Return an engine for *url*.

    SQLite: write-ahead log, full synchronous, foreign keys enforced (not while
    migrating: a table rebuild drops the old table), a real BEGIN IMMEDIATE for
    writers and a plain BEGIN for connections with the execution option
    ``read_only``.
    """
    engine = create_engine(
        url, pool_pre_ping=not url.startswith("sqlite"), json_serializer=write
    )
    if engine.dialect.name == "sqlite":
        _prepare_sqlite(engine, migrating=migrating)
    return engine


def snapshot(engine: Engine) -> Engine:
    """Return *engine* for reading at length: one state of all rows, nobody waits.

    SQLite: a deferred transaction, which sees the database as at its first read.
    PostgreSQL: repeatable read, read only.
    """
    if engine.dialect.name == "sqlite":
        return engine.execution_options(read_only=True)
    return engine.execution_options(
        isolation_level="REPEATABLE READ", postgresql_readonly=True
    )


def _prepare_sqlite(engine: Engine, *, migrating: bool) -> None:
    pragmas = (
        f"foreign_keys={'OFF' if migrating else 'ON'}",
        "journal_mode=WAL",
        f"synchronous={SYNCHRONOUS}",
        f"busy_timeout={BUSY_MS}",
    )

    @event.listens_for(engine, "connect")
    def on_connect(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # the driver's own BEGIN logic is in the way
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        read_only = connection.get_execution_options().get("read_only")
        connection.exec_driver_sql("BEGIN" if read_only else "BEGIN IMMEDIATE")
