"""The set-up of owners, sites and lineups."""

from flask import Blueprint, redirect, url_for
from flask.typing import ResponseReturnValue
from flask_login import login_required

bp = Blueprint("setup", __name__, url_prefix="/setup", template_folder="templates")


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/")
def index() -> ResponseReturnValue:
    """Lead to the sites: everything else stands on one."""
    return redirect(url_for(".sites"))
