"""The modules of the tablet's rule reader, its sentences among them."""

import json
from pathlib import Path

from flask import Flask, Response, request, send_from_directory

from models.words import catalogue

FOLDER = Path(__file__).parent / "offline"
SENTENCES = "words/en.js"


def sentences_module() -> str:
    """Return the catalogue of sentences as a JavaScript module."""
    return f"export default {json.dumps(catalogue(), ensure_ascii=False)};\n"


def init_offline_modules(app: Flask) -> None:
    """Serve the modules; a browser keeps them and asks whether they have changed."""

    @app.get(f"/offline/{SENTENCES}")
    def sentences() -> Response:
        response = Response(sentences_module(), mimetype="text/javascript")
        response.headers["Cache-Control"] = "no-cache"
        response.add_etag()
        response.make_conditional(request)
        return response

    @app.get("/offline/<path:name>")
    def offline_file(name: str) -> Response:
        return send_from_directory(FOLDER, name)
