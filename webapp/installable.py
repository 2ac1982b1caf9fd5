"""What a tablet needs to have the program among its applications."""

from flask import Flask, Response, jsonify, request

from webapp.icons import icon

KEPT_S = 86400
# address -> size in pixels, whether the system may cut it
ICONS = {
    "icon-192.png": (192, False),
    "icon-512.png": (512, False),
    "icon-cut-512.png": (512, True),
}
NAME = "Witnessmark"
PAPER, ACCENT = "#fffefb", "#0b3d66"  # of style.css


def init_installable(app: Flask) -> None:
    """Serve the manifest (W3C Web Application Manifest) and its icons."""

    @app.get("/manifest.webmanifest")
    def manifest() -> Response:
        return _kept(jsonify(_manifest()), "application/manifest+json")

    for name, (size, cut) in ICONS.items():
        _serve(app, name, size, maskable=cut)


def _serve(app: Flask, name: str, size: int, *, maskable: bool) -> None:
    def image() -> Response:
        return _kept(Response(icon(size, maskable=maskable)), "image/png")

    app.add_url_rule(f"/icons/{name}", name.partition(".")[0], image)


def _manifest() -> dict[str, object]:
    drawn = [{"src": "/static/favicon.svg", "sizes": "any", "type": "image/svg+xml"}]
    made = [
        {
            "src": f"/icons/{name}",
            "sizes": f"{size}x{size}",
            "type": "image/png",
            "purpose": "maskable" if cut else "any",
        }
        for name, (size, cut) in ICONS.items()
    ]
    return {
        "id": "/field/tablet",
        "name": f"{NAME}: acceptance tests of switchgear",
        "short_name": NAME,
        "description": "Tests of medium-voltage switchgear, without signal too.",
        "lang": "en",
        "start_url": "/field/tablet",
        "scope": "/",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": ACCENT,
        "icons": [*drawn, *made],
    }


def _kept(response: Response, mimetype: str) -> Response:
    response.mimetype = mimetype
    response.headers["Cache-Control"] = f"max-age={KEPT_S}"
    response.add_etag()
    response.make_conditional(request)
    return response
