"""The modules of the tablet's rule reader: files, and some made of Python data.

What both readers must have alike, the sentences, units and outcomes, stands once in
`models` and is given to the browser as a module.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict
from pathlib import Path

from flask import Flask, Response, request, send_from_directory

from models.judging.quantities import SPELLINGS, UNITS, said_unit
from models.judging.series import SERIES
from models.judging.values import Outcome
from models.words import catalogue

FOLDER = Path(__file__).parent / "offline"
# Of a kind of row: what its readings are checked and said by.
ROW_WORDS = ("step_unit", "unit", "scale", "from_zero", "signed", "most", "longest")


def sentences_module() -> str:
    """Return the catalogue of sentences."""
    return f"export default {_json(catalogue())};\n"


def tables_module() -> str:
    """Return units and their spellings, outcomes, and the kinds of rows."""
    units = {
        name: {**asdict(unit), "said": said_unit(name)} for name, unit in UNITS.items()
    }
    rows = {
        name: {word: getattr(kind, word) for word in ROW_WORDS}
        for name, kind in SERIES.items()
    }
    tables = {
        "UNITS": units,
        "SPELLINGS": SPELLINGS,
        "OUTCOMES": list(Outcome),
        "SERIES": rows,
    }
    return "".join(
        f"export const {name} = {_json(table)};\n" for name, table in tables.items()
    )


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


# Address under /offline/ -> what makes the module.
MADE: Mapping[str, Callable[[], str]] = {
    "words/en.js": sentences_module,
    "tables.js": tables_module,
}


def init_offline_modules(app: Flask) -> None:
    """Serve the modules; a browser keeps them and asks whether they have changed."""

    @app.get("/offline/<path:name>")
    def offline_file(name: str) -> Response:
        if name not in MADE:
            return send_from_directory(FOLDER, name)
        response = Response(MADE[name](), mimetype="text/javascript")
        response.headers["Cache-Control"] = "no-cache"
        response.add_etag()
        response.make_conditional(request)
        return response
