"""The stages of a run, in order; each is a command that also runs at the desk."""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from tests import postgres

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Stage:
    """*run* answers the exit status."""

    name: str
    run: Callable[[], int]


@dataclass(frozen=True, slots=True)
class Done:
    """How a stage went."""

    name: str
    seconds: float
    status: int


def command(*words: str, env: dict[str, str] | None = None) -> int:
    """Run a program of this environment from the root; return its status."""
    with started(words, env=env) as process:
        return process.wait()


def started(
    words: Sequence[str],
    *,
    env: dict[str, str] | None = None,
    out: IO[bytes] | None = None,
) -> subprocess.Popen[bytes]:
    """Start a program of this environment from the root; *out* takes what it says."""
    program = Path(sys.executable).parent / words[0]
    return subprocess.Popen(
        [str(program), *words[1:]],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **(env or {})},
        stdout=out,
        stderr=None if out is None else subprocess.STDOUT,
    )


def side_by_side(first: Sequence[str], second: Sequence[str]) -> int:
    """Run two programs at once; what the second says follows what the first says.

    Returns the first status that is not 0; the second stops if the first fails.
    """
    with tempfile.TemporaryFile() as said, started(second, out=said) as beside:
        status = command(*first)
        if status:
            beside.terminate()
        status = status or beside.wait()
        said.seek(0)
        print(said.read().decode("utf-8", "replace"), flush=True)
    return status


def linting() -> list[Stage]:
    """Return what looks at the text only."""
    return [
        Stage("ruff check", lambda: command("ruff", "check", "--quiet", ".")),
        Stage("ruff format", lambda: command("ruff", "format", "--check", "-q", ".")),
        Stage(
            "import contracts",
            lambda: command("lint-imports", "--no-cache", "--no-logo"),
        ),
        Stage("mypy", lambda: command("mypy")),
    ]


def testing(without: Sequence[str]) -> list[Stage]:
    """Return what runs the program; *without* names the tools that are missing."""
    absent = [f"--without={name}" for name in without]
    stages = [Stage("alembic check, SQLite", lambda: alembic_check("sqlite"))]
    if "postgres" not in without:
        stages.append(
            Stage("alembic check, PostgreSQL", lambda: alembic_check("postgres"))
        )
    other = ["pytest", "-q", "-m", "not browser", *absent]
    browser = ["pytest", "-q", "-m", "browser", *absent]
    if "chromium" in without:
        stages.append(Stage("pytest, all but browser", lambda: command(*other)))
    else:  # in processes of their own: the browser's driver keeps an event loop
        both = "pytest, browser beside the rest"
        stages.append(Stage(both, lambda: side_by_side(other, browser)))
    return stages


def alembic_check(database: str) -> int:
    """Upgrade an empty database and ask whether the mappings differ from it."""
    with tempfile.TemporaryDirectory() as folder:
        file = f"sqlite:///{(Path(folder) / 'check.sqlite').as_posix()}"
        found = nullcontext(file) if database == "sqlite" else postgres.server()
        with found as url:
            env = {"WITNESSMARK_DATABASE": url}
            return command("alembic", "upgrade", "head", env=env) or command(
                "alembic", "check", env=env
            )


def run(stages: Sequence[Stage]) -> list[Done]:
    """Run the stages up to the first that fails."""
    done: list[Done] = []
    for stage in stages:
        print(f"\n== {stage.name}", flush=True)
        start = time.monotonic()
        status = stage.run()
        done.append(Done(stage.name, time.monotonic() - start, status))
        if status:
            break
    return done
