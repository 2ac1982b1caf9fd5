"""The program that a tablet runs: one script and one style sheet, or the single files.

They are joined once a process (docs/decisions/0014-one-script-for-the-tablet.md). With
the setting WITNESSMARK_SINGLE_FILES pages load the files as they stand in the folders.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from flask import current_app

from webapp import offline_modules
from webapp.field.joining.program import joined, needed_modules
from webapp.field.joining.style import joined_style

STATIC = Path(__file__).parent.parent / "static"
ROUND = "/static/field/app.js"  # the entry of the field pages
LIST = "/static/field/shell/rounds_list.js"  # of the server's list of rounds
ENTRIES = (ROUND, LIST)
SHEETS = (
    "/static/style.css",
    "/static/drawing.css",
    "/static/field/field.css",
    "/static/field/safety_page/safety_page.css",
    "/static/field/safety_card/safety_card.css",
    "/static/field/photos/photos.css",
)


@dataclass(frozen=True, slots=True)
class Program:
    """The addresses of what is joined, which change with what is in it.

    *texts*: by these addresses; *inside*: addresses of the single files in them.
    """

    script: str
    sheet: str
    texts: Mapping[str, str]
    inside: frozenset[str]


def digest(content: bytes) -> str:
    """Return the SHA-256 of what is answered, in hexadecimal digits."""
    return sha256(content).hexdigest()


def read_source(address: str) -> str:
    """Return the text of a module or a style sheet as the server answers it."""
    folder, name = address[1:].split("/", 1)
    if folder == "static":
        return (STATIC / name).read_text("utf-8")
    made = offline_modules.MADE.get(name)
    return made() if made else (offline_modules.FOLDER / name).read_text("utf-8")


def make_program() -> Program:
    """Join the files as they are now; JoinError names what is written otherwise."""
    modules = needed_modules(ENTRIES, read_source)
    script, sheet = joined(modules), joined_style(SHEETS, read_source)
    names = _address("js", script), _address("css", sheet)
    return Program(
        *names,
        texts=dict(zip(names, (script, sheet), strict=True)),
        inside=frozenset({*SHEETS, *(module.address for module in modules)}),
    )


def _address(kind: str, text: str) -> str:
    return f"/field/program-{digest(text.encode())[:12]}.{kind}"


def program() -> Program:
    """Return the program, joined when it is asked for first."""
    kept = current_app.extensions
    if "program" not in kept:
        kept["program"] = make_program()
    found: Program = kept["program"]
    return found


def loaded_by_page(entry: str) -> dict[str, object]:
    """Return what the templates of the field's pages load: script, entry, sheets."""
    if current_app.config["SINGLE_FILES"]:
        return {"script": None, "entry": entry, "sheets": SHEETS}
    made = program()
    return {"script": made.script, "entry": entry, "sheets": [made.sheet]}
