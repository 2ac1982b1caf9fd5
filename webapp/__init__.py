"""The one place where the parts of the web application are joined."""

from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from webapp.config import Config, load_config

if TYPE_CHECKING:
    from flask import Flask
    from werkzeug.wrappers import Response

LARGEST_REQUEST = 8 * 1024 * 1024  # bytes


def create_app(config: Config | None = None) -> "Flask":
    """Return the application for *config*, by default that of the environment.

    Flask and the parts are imported here, so that `witnessmark judge` and
    `verify` start without them.
    """
    from flask import Flask  # noqa: PLC0415

    from webapp.compressing import init_compressing  # noqa: PLC0415
    from webapp.db import init_db  # noqa: PLC0415
    from webapp.errors import init_errors  # noqa: PLC0415
    from webapp.file_store import init_files  # noqa: PLC0415
    from webapp.guessing import init_guessing  # noqa: PLC0415
    from webapp.headers import init_headers  # noqa: PLC0415
    from webapp.private_files import keep_private  # noqa: PLC0415
    from webapp.sign_in_state import SESSION_HOURS, init_sign_in  # noqa: PLC0415

    config = config or load_config()
    keep_private(config.database)
    app = Flask("webapp", root_path=str(Path(__file__).parent))
    app.config.update(
        SECRET_KEY=config.secret,
        TESTING=config.testing,
        SINGLE_FILES=config.single_files,
        MAX_CONTENT_LENGTH=LARGEST_REQUEST,
        PERMANENT_SESSION_LIFETIME=timedelta(hours=SESSION_HOURS),
        # Else an answer on its way while somebody signs out brings the session back.
        SESSION_REFRESH_EACH_REQUEST=False,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=config.https,
        SESSION_COOKIE_NAME="__Host-witnessmark" if config.https else "witnessmark",
        WTF_CSRF_TIME_LIMIT=None,
        TRUSTED_HOSTS=list(config.hosts) or None,
    )
    app.extensions["witnessmark"] = config
    init_db(app, config.database)
    init_compressing(app)
    init_headers(app)
    init_files(app, config)
    init_sign_in(app)
    init_guessing(app)
    init_errors(app)
    _join_areas(app)
    return app


def _join_areas(app: "Flask") -> None:
    from webapp import (  # noqa: PLC0415
        account,
        field,
        files,
        gear,
        instruments,
        labels,
        library,
        owner,
        people,
        planning,
        readings_file,
        safety,
        setup,
        start,
        turnover,
        waveforms,
    )
    from webapp.installable import init_installable  # noqa: PLC0415
    from webapp.offline_modules import init_offline_modules  # noqa: PLC0415
    from webapp.page_stops import init_page_stops  # noqa: PLC0415
    from webapp.setup_ways import init_setup_ways  # noqa: PLC0415
    from webapp.words.page_filters import init_page_words  # noqa: PLC0415

    areas = (
        account,
        field,
        turnover,
        owner,
        library,
        start,
        setup,
        files,
        planning,
        instruments,
        people,
        gear,
        safety,
        labels,
        waveforms,
        readings_file,
    )
    for area in areas:
        app.register_blueprint(area.bp)
    init_page_words(app)
    init_setup_ways(app)
    init_page_stops(app)
    init_installable(app)
    init_offline_modules(app)
    start.init_set_up_first(app)
    _add_front_doors(app)


def _add_front_doors(app: "Flask") -> None:
    from flask import redirect, send_from_directory, url_for  # noqa: PLC0415
    from flask_login import current_user  # noqa: PLC0415

    @app.get("/favicon.ico")
    def favicon() -> "Response":
        return send_from_directory(
            Path(app.root_path) / "static", "favicon.svg", mimetype="image/svg+xml"
        )

    @app.get("/")
    def home() -> "Response":
        if not current_user.is_authenticated:
            return redirect(url_for("account.sign_in"))
        ways = {
            "lead": "turnover.rounds",
            "technician": "field.rounds",
            "owner": "owner.lineups",
            "administrator": "start.first_steps",
        }
        way = next(ways[role] for role in ways if current_user.has_role(role))
        return redirect(url_for(way))
