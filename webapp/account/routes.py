"""Sign in, sign out, change a password."""

from flask import (
    Blueprint,
    flash,
    redirect,
    render_template,
    request,
    session,
    url_for,
)
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required, logout_user

from models.errors import InputError
from models.services.people.change_password import change_password
from models.services.people.people import PersonView, person_view
from models.services.people.sign_in import check_sign_in
from webapp.account.forms import PasswordForm, SignInForm
from webapp.clock import now
from webapp.db import commit, db, read_session
from webapp.form_faults import place_faults
from webapp.guessing import counted_try, signed_in_well
from webapp.sign_in_state import begin_session
from webapp.way_back import way_back

bp = Blueprint("account", __name__, url_prefix="/account", template_folder="templates")


@bp.get("/sign-in")
def sign_in() -> ResponseReturnValue:
    """Show the sign-in form; who is signed in already goes on."""
    onward = way_back(request.args.get("next", ""))
    if current_user.is_authenticated:
        return redirect(onward or url_for("home"), code=303)
    return render_template("account/sign_in.html", form=SignInForm(), onward=onward)


@bp.post("/sign-in")
def enter() -> ResponseReturnValue:
    """Check name and password without holding the write lock meanwhile."""
    form = SignInForm()
    onward = way_back(request.form.get("next", ""))
    if form.validate():
        try:
            view = _checked(form.sign_in.data, form.password.data)
        except InputError as error:
            place_faults(form, error)
        else:
            signed_in_well(view.sign_in)
            begin_session(view)
            return redirect(onward or url_for("home"), code=303)
    return render_template("account/sign_in.html", form=form, onward=onward), 422


def _checked(sign_in: str, password: str) -> PersonView:
    with counted_try(sign_in):
        return check_sign_in(read_session(), sign_in=sign_in, password=password)


@bp.post("/sign-out")
def sign_out() -> ResponseReturnValue:
    """End the session of this device."""
    logout_user()
    session.clear()
    flash("You are signed out on this device.")
    return redirect(url_for("account.sign_in", left="yes"), code=303)


@bp.get("/password")
@login_required
def password() -> ResponseReturnValue:
    """Show the form for a new password."""
    return render_template("account/password.html", form=PasswordForm())


@bp.post("/password")
@login_required
def renew_password() -> ResponseReturnValue:
    """Change the password; this session goes on, the person's others end."""
    form = PasswordForm()
    if form.validate():
        try:
            _change(form)
        except InputError as error:
            place_faults(form, error)
        else:
            begin_session(person_view(db(), person_id=current_user.id))
            flash("Your password is changed. Your other devices have to sign in anew.")
            return redirect(url_for("home"), code=303)
    return render_template("account/password.html", form=form), 422


def _change(form: PasswordForm) -> None:
    with counted_try(current_user.view.sign_in, field="old"):
        change_password(
            db(),
            person_id=current_user.id,
            old=form.old.data,
            new=form.new.data,
            now=now(),
        )
        commit()
