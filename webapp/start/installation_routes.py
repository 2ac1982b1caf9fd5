"""How the installation stands, for whoever runs it."""

import shutil
from datetime import timedelta
from importlib.metadata import PackageNotFoundError, version

from flask import render_template
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.services.keeping.installation import installation as installation_of
from webapp.clock import now
from webapp.config import instance_dir
from webapp.db import db
from webapp.last_check import last_check
from webapp.start.routes import bp

LOW = 2_000_000_000  # bytes free below which the page says so
UNITS = ("bytes", "kB", "MB", "GB", "TB")
CHECK_DUE = timedelta(days=2)


@bp.get("/installation")
@login_required
def installation() -> ResponseReturnValue:
    """Show disk, database, log, files, tablets and clock."""
    found = installation_of(db(), person_id=current_user.id)
    at, check = now(), last_check()
    return render_template(
        "start/installation.html",
        found=found,
        at=at,
        zone=at.astimezone().tzname(),
        version=_version(),
        disk=_disk(),
        low=LOW,
        check=check,
        check_due=check is None or at - check.when > CHECK_DUE,
        ahead=found.last_entry_at is not None and found.last_entry_at > at,
        size=size,
    )


def size(count: int) -> str:
    """Return bytes for people: 412 kB, 3.4 GB."""
    power = min((len(str(count)) - 1) // 3, len(UNITS) - 1)
    value = count / 1000**power
    digits = 0 if value >= 10 or not power else 1
    return f"{value:.{digits}f}\u00a0{UNITS[power]}"


def _disk() -> tuple[int, int] | None:
    """Return what is free and what there is where the instance folder is."""
    try:
        found = shutil.disk_usage(instance_dir())
    except OSError:
        return None
    return found.free, found.total


def _version() -> str:
    try:
        return version("witnessmark")
    except PackageNotFoundError:
        return ""
