"""The set-up of an empty installation, in three steps."""

import secrets
from uuid import UUID

from flask import (
    current_app,
    flash,
    redirect,
    render_template,
    session,
    url_for,
)
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import ForbiddenError, InputError
from models.services.people.first_start import (
    CodeRefusedError,
    SetUpState,
    add_first_administrator,
    authority_fingerprint,
    begin_set_up,
    fingerprint_waits_for,
    finish_set_up,
    has_people,
    set_up_state,
)
from models.services.people.people import person_view
from webapp.clock import new_id, now
from webapp.config import Config
from webapp.db import commit, db, read_session
from webapp.form_faults import place_faults
from webapp.guessing import counted_code, signed_in_well
from webapp.sign_in_state import begin_session
from webapp.start.forms import AdministratorForm, AuthorityForm, OrganisationForm
from webapp.start.routes import bp

HOLDER = "set_up"  # in the session of the browser that gave the code


@bp.get("/set-up")
def set_up() -> ResponseReturnValue:
    """Lead to the step that is next."""
    state = _state()
    if state.person_id is not None and state.held and not state.finished:
        return redirect(url_for(".authority"), code=303)
    if has_people(db()):
        return redirect(url_for("home"), code=303)
    step = ".administrator" if state.name else ".organisation"
    return redirect(url_for(step), code=303)


@bp.get("/set-up/organisation")
def organisation() -> ResponseReturnValue:
    """Ask for the code and the test organisation."""
    if has_people(db()):
        return redirect(url_for("home"), code=303)
    state = _state()
    form = OrganisationForm(name=state.name, address=state.address)
    return _organisation_page(form, state)


@bp.post("/set-up/organisation")
def enter_organisation() -> ResponseReturnValue:
    """Enter the test organisation."""
    if has_people(db()):
        return redirect(url_for(".set_up"), code=303)
    form, state = OrganisationForm(), _state()
    if not form.code.data and not state.held:
        form.code.errors = ["Write the code that the program printed."]
    elif form.validate():
        try:
            _begin(form)
        except InputError as error:
            place_faults(form, error)
        else:
            return redirect(url_for(".administrator"), code=303)
    return _organisation_page(form, state), 422


def _begin(form: OrganisationForm) -> None:
    session.permanent = True  # a closed browser goes on where it was
    holder = session.setdefault(HOLDER, secrets.token_hex(16))
    with counted_code("first start", CodeRefusedError):
        begin_set_up(
            db(),
            code=form.code.data or "",
            holder=holder,
            name=form.name.data,
            address=form.address.data or "",
            now=now(),
            new_id=new_id,
        )
        commit()


@bp.get("/set-up/administrator")
def administrator() -> ResponseReturnValue:
    """Ask for the first person."""
    state = _state()
    if not state.name or has_people(db()):
        return redirect(url_for(".set_up"), code=303)
    form = AdministratorForm()
    return render_template("start/administrator.html", form=form, state=state)


@bp.post("/set-up/administrator")
def enter_administrator() -> ResponseReturnValue:
    """Make the authority, and add the first person."""
    if has_people(db()):
        return redirect(url_for(".set_up"), code=303)
    form = AdministratorForm()
    if form.validate():
        try:
            _add(form)
        except InputError as error:
            place_faults(form, error)
        else:
            return redirect(url_for(".authority"), code=303)
    return render_template("start/administrator.html", form=form, state=_state()), 422


def _add(form: AdministratorForm) -> None:
    config: Config = current_app.extensions["witnessmark"]
    with counted_code("set-up", ForbiddenError):
        add_first_administrator(
            db(),
            holder=_holder(),
            name=form.name.data,
            sign_in=form.sign_in.data,
            password=form.password.data,
            also=form.also,
            secret=config.secret,
            now=now(),
            new_id=new_id,
        )
        commit()


@bp.get("/set-up/authority")
def authority() -> ResponseReturnValue:
    """Show the fingerprint of the authority, to be written down."""
    if _first_person() is None:
        return redirect(url_for("home"), code=303)
    return _authority_page(AuthorityForm())


@bp.post("/set-up/authority")
def confirm_authority() -> ResponseReturnValue:
    """Record that it is written down, and sign the person in."""
    form, person_id = AuthorityForm(), _first_person()
    if person_id is None:
        return redirect(url_for("home"), code=303)
    if not form.validate():
        return _authority_page(form), 422
    finish_set_up(db(), person_id=person_id, now=now())
    commit()
    view = person_view(read_session(), person_id=person_id)
    signed_in_well(view.sign_in)
    begin_session(view)
    flash("The installation is set up, and you are signed in.")
    return redirect(url_for(".first_steps"), code=303)


def _first_person() -> UUID | None:
    """Return the first administrator if this is their browser, and they still wait."""
    state = _state()
    person_id = state.person_id
    if person_id is None or state.finished:
        return None
    if current_user.is_authenticated:
        waits = fingerprint_waits_for(db(), person_id=current_user.id)
        return current_user.id if waits else None
    return person_id if state.held else None


def _organisation_page(form: OrganisationForm, state: SetUpState) -> str:
    return render_template("start/organisation.html", form=form, state=state)


def _authority_page(form: AuthorityForm) -> str:
    return render_template(
        "start/authority.html", form=form, fingerprint=authority_fingerprint(db())
    )


def _state() -> SetUpState:
    return set_up_state(db(), holder=_holder())


def _holder() -> str:
    found: str = session.get(HOLDER, "")
    return found
