"""The field application as a tablet holds it: its files, its version, its worker.

The page is the same for everybody, so that the service worker may hold it; who is
signed in, and what they may see, comes from the server with each document.
"""

import json
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from flask import Flask, current_app, render_template

from webapp import offline_modules
from webapp.field.program import (
    ROUND,
    STATIC,
    Program,
    digest,
    loaded_by_page,
    program,
)

WORKER = Path(__file__).parent / "worker"
PAGE = "/field/tablet"
SHARED = ("style.css", "drawing.css", "theme.js", "elevation_parts.js", "favicon.svg")
FOLDERS = ("field", "fonts")
KINDS = (".js", ".css", ".svg", ".png", ".woff2")
# What a tablet fetches after the rest: it works without it until then.
LATER = ("/vendor/", "/fonts/", "/wire/")


@dataclass(frozen=True)
class Shell:
    """What a tablet holds of the program: address -> SHA-256 of what is answered."""

    files: dict[str, str]
    page: str

    @cached_property
    def version(self) -> str:
        """The version of the program on a tablet: of every file that it holds."""
        return digest(json.dumps([self.files, self.page]).encode())[:12]

    def html(self) -> str:
        """Return the page, with the version that it is of."""
        return self.page.replace("PROGRAM-VERSION", self.version)

    def worker(self) -> str:
        """Return the service worker, with the list of files that it holds."""
        files = {PAGE: digest(self.html().encode()), **self.files}
        first = {name: digest for name, digest in files.items() if not _later(name)}
        told = {
            "version": self.version,
            "page": PAGE,
            "first": first,
            "later": {name: files[name] for name in files.keys() - first.keys()},
        }
        parts = [
            f"const PROGRAM = {json.dumps(told, sort_keys=True)};\n",
            *(path.read_text("utf-8") for path in sorted(WORKER.glob("*.js"))),
            (STATIC / "field/kept/worker_memory.js").read_text("utf-8"),
        ]
        return "\n".join(parts)


def _later(name: str) -> bool:
    return any(part in name for part in LATER)


def make_shell(app: Flask) -> Shell:
    """Read the files as they are now."""
    with app.test_request_context():
        singly = app.config["SINGLE_FILES"]
        files = single_files() if singly else joined_files(program())
        page = render_template("field/shell.html", **loaded_by_page(ROUND))
    return Shell(files=files, page=page)


def joined_files(made: Program) -> dict[str, str]:
    """Return the joined files, and what is in none of them, such as fonts."""
    files = {name: digest(text.encode()) for name, text in made.texts.items()}
    for name, one in single_files().items():
        if name not in made.inside:
            files[name] = one
    return files


def single_files() -> dict[str, str]:
    """Return the digest of every file as it stands in the folders, by its address."""
    static = [STATIC / name for name in SHARED]
    for folder in FOLDERS:
        static += sorted(p for p in (STATIC / folder).rglob("*") if p.suffix in KINDS)
    files = {
        f"/static/{path.relative_to(STATIC).as_posix()}": digest(path.read_bytes())
        for path in static
    }
    for path in sorted(offline_modules.FOLDER.rglob("*.js")):
        name = path.relative_to(offline_modules.FOLDER).as_posix()
        files[f"/offline/{name}"] = digest(path.read_bytes())
    for name, made in offline_modules.MADE.items():
        files[f"/offline/{name}"] = digest(made().encode())
    return files


def shell() -> Shell:
    """Return the application's shell, made when it is asked for first."""
    kept = current_app.extensions
    if "shell" not in kept:
        # current_app is a proxy: what is held must not depend on this request.
        kept["shell"] = make_shell(current_app._get_current_object())  # type: ignore[attr-defined]
    found: Shell = kept["shell"]
    return found
