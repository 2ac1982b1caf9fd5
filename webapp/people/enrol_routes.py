"""The page that a link opens: choose a password, get a key. No sign-in before."""

from flask import (
    Response,
    current_app,
    flash,
    redirect,
    render_template,
    request,
    url_for,
)
from flask.typing import ResponseReturnValue

from models.errors import InputError
from models.services.people import enrolment as services
from models.services.people.people import person_view
from webapp.clock import new_id, now
from webapp.db import commit, db, read_session, write_session
from webapp.form_faults import place_faults
from webapp.guessing import counted_code, signed_in_well
from webapp.people.forms import EnrolForm
from webapp.people.routes import WITHOUT_SIGN_IN, bp
from webapp.sign_in_state import begin_session

GONE = 410  # the status of a link that cannot be used (RFC 9110, 15.5.11)


@bp.after_request
def tell_no_link(response: Response) -> Response:
    """Keep the link out of the Referer of what its page asks for, and so out of logs.

    The origin alone is told: over TLS a form without it is taken for a forged one.
    """
    if request.endpoint in WITHOUT_SIGN_IN:
        response.headers["Referrer-Policy"] = "strict-origin"
    return response


@bp.get("/enrol/<token>")
def ask_enrolment(token: str) -> ResponseReturnValue:
    """Show who invites whom, and ask for a password."""
    try:
        found = services.enrolment_of(db(), token=token, now=now())
    except services.InvitationError as error:
        return _refused(error)
    return render_template("people/enrol.html", form=EnrolForm(), found=found)


@bp.post("/enrol/<token>")
def enrol(token: str) -> ResponseReturnValue:
    """Give the person password and key, and sign them in on this device."""
    form = EnrolForm()
    try:
        found = services.enrolment_of(read_session(), token=token, now=now())
        if form.validate():
            return _enrolled(token, found.kind, form.password.data)
    except services.InvitationError as error:
        return _refused(error)
    except InputError as error:
        place_faults(form, error)
    return render_template("people/enrol.html", form=form, found=found), 422


def _enrolled(token: str, kind: str, password: str) -> ResponseReturnValue:
    with counted_code("enrolment", services.InvitationError, field="password"):
        person_id = services.enrol(
            write_session(),
            token=token,
            password=password,
            secret=current_app.extensions["witnessmark"].secret,
            key_id=new_id(),
            now=now(),
        )
        commit()
    view = person_view(read_session(), person_id=person_id)
    signed_in_well(view.sign_in)
    begin_session(view)
    if kind == "enrol":
        flash("You are enrolled and signed in: your key is made, and only you open it.")
    else:
        flash(
            "You have a new password and a new key, and are signed in. The key of "
            "before signs nothing any more; what it signed stays valid."
        )
    return redirect(url_for("home"), code=303)


def _refused(error: services.InvitationError) -> ResponseReturnValue:
    status = 404 if error.state == "unknown" else GONE
    return render_template("people/no_link.html", error=error), status
