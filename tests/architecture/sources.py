"""The project's own files, read as text and as syntax trees."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("models", "webapp", "seed_demo", "migrations")
LEFT_OUT = {"__pycache__", "node_modules", "instance", "test-results", "build", "dist"}


@cache
def modules(folder: str) -> tuple[Path, ...]:
    """Return every Python file under *folder* of the root."""
    return tuple(sorted((ROOT / folder).rglob("*.py")))


@cache
def tree(path: Path) -> ast.Module:
    """Return the file's syntax tree."""
    return ast.parse(path.read_text("utf-8"), filename=str(path))


def imported(path: Path) -> set[str]:
    """Return the modules that a file imports anywhere, by full name."""
    found: set[str] = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def libraries(path: Path) -> set[str]:
    """Return the top-level libraries, not of the standard one, that a file imports."""
    return {name.split(".")[0] for name in imported(path)} - sys.stdlib_module_names


def calls(path: Path) -> Iterator[tuple[str, int]]:
    """Yield each call of a name or an attribute as dotted text, with its line."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func), node.lineno


def project_files() -> list[Path]:
    """Return the files that belong to the project: those that Git tracks.

    In a copy without Git, every file outside hidden and made folders.
    """
    listed = subprocess.run(
        ["git", "-C", str(ROOT), "ls-files", "-z", "--cached"],
        check=False,
        capture_output=True,
        text=True,
    )
    if listed.returncode == 0 and listed.stdout:
        paths = (ROOT / name for name in listed.stdout.split("\0") if name)
        return [path for path in paths if path.is_file()]
    return [
        path
        for path in ROOT.rglob("*")
        if path.is_file() and not _made(path.relative_to(ROOT))
    ]


def _made(path: Path) -> bool:
    hidden = path.parts[0].startswith(".") and path.parts[0] != ".ci"
    return hidden or bool(LEFT_OUT & set(path.parts))


def said(path: Path) -> str:
    """Return the path as the project names it."""
    return path.relative_to(ROOT).as_posix()
