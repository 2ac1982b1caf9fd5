"""The list of people, and inviting one."""

from uuid import UUID

from flask import Blueprint, current_app, render_template, request
from flask.typing import ResponseReturnValue
from flask_login import LoginManager, current_user

from models.errors import InputError
from models.services.people.access import ROLES
from models.services.people.assignments import sites_to_assign
from models.services.people.invitations import invite
from models.services.people.list_people import STATES, list_people
from models.services.people.person_record import organisations
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.looked_for import wanted
from webapp.people.forms import InviteForm
from webapp.people.links import new_token, show_link

bp = Blueprint("people", __name__, url_prefix="/people", template_folder="templates")
WITHOUT_SIGN_IN = ("people.ask_enrolment", "people.enrol")


@bp.before_request
def signed_in() -> ResponseReturnValue | None:
    """Let nobody in who is not signed in, but to the page of a link."""
    if current_user.is_authenticated or request.endpoint in WITHOUT_SIGN_IN:
        return None
    answer: ResponseReturnValue = login_manager().unauthorized()
    return answer


def login_manager() -> LoginManager:
    """Return what answers those who are not signed in."""
    found: LoginManager = current_app.login_manager  # type: ignore[attr-defined]
    return found


@bp.get("/")
def people() -> ResponseReturnValue:
    """List the people, those first who need something."""
    role = request.args.get("role", "")
    site = request.args.get("site", "")
    page = list_people(
        db(),
        by_id=current_user.id,
        now=now(),
        role=role if role in ROLES else "",
        site_id=_identifier(site),
        **wanted(),
    )
    sites = sites_to_assign(db(), by_id=current_user.id)
    return render_template(
        "people/people.html", page=page, sites=sites, states=STATES, roles=ROLES
    )


@bp.get("/new")
def new_person() -> ResponseReturnValue:
    """Ask for a new person."""
    form = InviteForm()
    form.offer(organisations(db(), by_id=current_user.id))
    return render_template("people/new_person.html", form=form)


@bp.post("/new")
def add_person() -> ResponseReturnValue:
    """Add the person, and show the link with which they enrol."""
    form = InviteForm()
    form.offer(organisations(db(), by_id=current_user.id))
    token = new_token()
    try:
        made = invite(
            db(),
            by_id=current_user.id,
            person_id=new_id(),
            organisation_id=form.organisation_id,
            name=form.name.data or "",
            sign_in=form.sign_in.data or "",
            roles=form.roles.data or (),
            token=token,
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        faults = place_faults(form, error)
        page = render_template("people/new_person.html", form=form, elsewhere=faults)
        return page, 422
    commit()
    return show_link(made, token)


def _identifier(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None
