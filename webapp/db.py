"""One session a request: opened when first asked for, committed once or not at all."""

from collections.abc import Iterator
from contextlib import contextmanager

from flask import Flask, current_app, g, request
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from models.schema.engine import WRITE_LOCK, make_engine, snapshot
from webapp.clock import now

SAFE_METHODS = ("GET", "HEAD", "OPTIONS")


def init_db(app: Flask, url: str) -> None:
    """Give the application an engine."""
    app.extensions["engine"] = make_engine(url)
    app.teardown_appcontext(lambda _error: close())


def engine() -> Engine:
    """Return the application's engine."""
    found: Engine = current_app.extensions["engine"]
    return found


def db() -> Session:
    """Return the request's session.

    A request that only reads takes no write lock; one that may write holds the
    process's lock to its end, since SQLite admits one writer.
    """
    if "session" not in g:
        reading = request.method in SAFE_METHODS
        g.session = open_session(reading=reading)
    session: Session = g.session
    return session


def write_session() -> Session:
    """Return a session for a short transaction of its own."""
    close()
    g.session = open_session(reading=False)
    session: Session = g.session
    return session


def read_session() -> Session:
    """Return a session that takes no write lock, whatever the request's method."""
    close()
    g.session = open_session(reading=True)
    session: Session = g.session
    return session


def open_session(*, reading: bool) -> Session:
    """Open a session; a writing one holds the process's write lock until closed."""
    found = engine()
    if reading:
        found = found.execution_options(read_only=True)
    elif found.dialect.name == "sqlite":
        WRITE_LOCK.acquire()
        g.holds_lock = True
    return Session(found, expire_on_commit=False, info={"clock": now})


@contextmanager
def snapshot_session() -> Iterator[Session]:
    """Give a session that sees one state of the database and outlives the request."""
    with Session(
        snapshot(engine()), expire_on_commit=False, info={"clock": now}
    ) as session:
        yield session


def commit() -> None:
    """Commit the request's work: once, at its end."""
    db().commit()


def close() -> None:
    """Close the session, undoing what was not committed, and free the lock."""
    session = g.pop("session", None)
    if session is not None:
        session.close()
    if g.pop("holds_lock", False):
        WRITE_LOCK.release()
