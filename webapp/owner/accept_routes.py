"""The owner fetches a package and accepts it."""

from io import BytesIO
from uuid import UUID

from flask import flash, redirect, render_template, send_file, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.turnover import acceptance
from models.services.turnover import package as packages
from models.services.turnover.deviations import round_deviations
from models.services.turnover.gate import gate
from models.services.turnover.round_overview import round_overview
from webapp.clock import now
from webapp.db import close, commit, db, read_session, write_session
from webapp.form_faults import place_faults
from webapp.guessing import counted_try
from webapp.owner.forms import AcceptForm
from webapp.owner.routes import bp
from webapp.package_files import verified_digest


@bp.get("/rounds/<uuid:round_id>/package.pdf")
def package_file(round_id: UUID) -> ResponseReturnValue:
    """Send the package."""
    name, pdf = packages.package_pdf(db(), person_id=current_user.id, round_id=round_id)
    return send_file(
        BytesIO(pdf),
        mimetype="application/pdf",
        as_attachment=True,
        download_name=name,
    )


@bp.get("/rounds/<uuid:round_id>/accept")
def ask_acceptance(round_id: UUID) -> ResponseReturnValue:
    """Show what would be accepted, and what follows from it."""
    return _accept_page(round_id, AcceptForm())


@bp.post("/rounds/<uuid:round_id>/accept")
def accept(round_id: UUID) -> ResponseReturnValue:
    """Accept the package, once its file was verified, with the owner's signature."""
    form = AcceptForm()
    if not form.validate():
        return _accept_page(round_id, form), 422
    file = acceptance.file_to_accept(
        read_session(), person_id=current_user.id, round_id=round_id
    )
    close()
    sha256 = verified_digest(file)
    try:
        with counted_try(current_user.view.sign_in):
            acceptance.accept_package(
                write_session(),
                person_id=current_user.id,
                round_id=round_id,
                sha256=sha256,
                password=form.password.data,
                now=now(),
            )
            commit()
    except InputError as error:
        place_faults(form, error)
        return _accept_page(round_id, form), 422
    flash("The package is accepted. Its readings are fixed.")
    head = round_overview(db(), person_id=current_user.id, round_id=round_id).head
    return redirect(url_for("owner.book", lineup_id=head.lineup_id), code=303)


def _accept_page(round_id: UUID, form: AcceptForm) -> str:
    session = read_session()
    sheet = round_overview(session, person_id=current_user.id, round_id=round_id)
    return render_template(
        "owner/accept.html",
        head=sheet.head,
        gate=gate(session, person_id=current_user.id, round_id=round_id),
        package=packages.package_view(
            session, person_id=current_user.id, round_id=round_id
        ),
        deviations=round_deviations(
            session, person_id=current_user.id, round_id=round_id
        ),
        statement=acceptance.acceptance_statement(sheet.head.kind),
        form=form,
    )
