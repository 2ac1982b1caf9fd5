"""The stages of a run, in order; each is a command that also runs at the desk."""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
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


def in_turn(programs: Sequence[Sequence[str]], at_once: int = 2) -> int:
    """Run programs, *at_once* of them beside each other; say what each said when done.

    Every program runs; returns the first status that is not 0, in the order given.
    """
    with ThreadPoolExecutor(at_once) as pool:
        statuses = list(pool.map(_said_whole, programs))
    return next((status for status in statuses if status), 0)


def _said_whole(words: Sequence[str]) -> int:
    """Run a program and print all that it said in one piece; return its status."""
    print(f"begun: {' '.join(words)}", flush=True)
    with tempfile.TemporaryFile() as said:
        with started(words, out=said) as process:
            status = process.wait()
        said.seek(0)
        text = said.read().decode("utf-8", "replace")
    print(f"done: {' '.join(words)}\n{text}", flush=True)
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
    # The browser's driver keeps an event loop: its tests run in a process of their own.
    parts = [["pytest", "-q", *part, *absent] for part in parts_of_the_tests()]
    if "chromium" in without:
        parts = [part for part in parts if BROWSER not in part]
    stages.append(Stage("pytest, two parts at once", lambda: in_turn(parts)))
    return stages


BROWSER = "browser"
# What takes longest begins first; the last ones are short, so that both processes end
# at about the same time.
OWN_PART = ("tests/models/services", "tests/webapp", "tests/models")


def parts_of_the_tests() -> list[list[str]]:
    """Return what pytest is told for each part; together they are every test.

    A part is given its folder: to look through all tests takes half a minute.
    """
    not_browser = ["-m", f"not {BROWSER}"]
    return [
        ["-m", BROWSER, "tests/browser"],
        *([*not_browser, folder, *_inside(folder)] for folder in OWN_PART),
        [*not_browser, *_ignoring(OWN_PART)],
    ]


def _inside(folder: str) -> list[str]:
    """Return what leaves out the parts that lie in this one."""
    return _ignoring(one for one in OWN_PART if one.startswith(f"{folder}/"))


def _ignoring(folders: Iterable[str]) -> list[str]:
    return [f"--ignore={folder}" for folder in folders]


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
