"""The package: its signatures, the files to fetch, signing and approving it."""

from io import BytesIO
from uuid import UUID

from flask import flash, redirect, render_template, send_file, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.turnover import package as packages
from models.services.turnover.gate import gate
from models.services.turnover.lead_acts import waive_seal
from models.services.turnover.round_overview import round_overview
from webapp.clock import new_id, now
from webapp.db import close, commit, db, read_session, write_session
from webapp.file_store import store
from webapp.form_faults import place_faults
from webapp.guessing import counted_try
from webapp.package_files import make_draft, make_signed
from webapp.turnover.forms import ReasonForm, SignForm
from webapp.turnover.routes import bp

DONE = {
    "performed": "You have signed the package as performed.",
    "approved": "The package is approved and the round is turned over.",
}


@bp.get("/rounds/<uuid:round_id>/package")
def package(round_id: UUID) -> ResponseReturnValue:
    """Show the package with the state of each signature."""
    return _package_page(round_id, SignForm())


@bp.post("/rounds/<uuid:round_id>/package/<any(performed, approved):meaning>")
def sign(round_id: UUID, meaning: str) -> ResponseReturnValue:
    """Sign the package; the file is made outside any transaction."""
    form, at = SignForm(), now()
    if not form.validate():
        return _package_page(round_id, form), 422
    try:
        with counted_try(current_user.view.sign_in):
            prepared = packages.prepare(
                read_session(),
                person_id=current_user.id,
                round_id=round_id,
                meaning=meaning,
                password=form.password.data,
                now=at,
            )
    except InputError as error:
        place_faults(form, error)
        return _package_page(round_id, form), 422
    _make_and_store(round_id, prepared)
    flash(DONE[meaning])
    return redirect(url_for("turnover.package", round_id=round_id), code=303)


def _make_and_store(round_id: UUID, prepared: packages.Prepared) -> None:
    close()
    at = now()
    pdf = make_signed(prepared, at, store())
    packages.store_signed(
        write_session(), prepared=prepared, round_id=round_id, pdf=pdf, now=at
    )
    commit()


@bp.get("/rounds/<uuid:round_id>/package/without/<uuid:performer_id>")
def ask_waiver(round_id: UUID, performer_id: UUID) -> ResponseReturnValue:
    """Ask why a performer's signature is not to be had."""
    return _waiver_page(round_id, performer_id, ReasonForm())


@bp.post("/rounds/<uuid:round_id>/package/without/<uuid:performer_id>")
def waive(round_id: UUID, performer_id: UUID) -> ResponseReturnValue:
    """Record why a performer's signature is not to be had."""
    form = ReasonForm()
    try:
        waive_seal(
            db(),
            person_id=current_user.id,
            round_id=round_id,
            performer_id=performer_id,
            waiver_id=new_id(),
            reason=form.reason.data or "",
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return _waiver_page(round_id, performer_id, form), 422
    commit()
    flash("The reason is recorded and will be printed in the package.")
    return redirect(url_for("turnover.package", round_id=round_id), code=303)


@bp.get("/rounds/<uuid:round_id>/draft.pdf")
def draft_file(round_id: UUID) -> ResponseReturnValue:
    """Send the package as it would be now, marked as a draft on every page."""
    document = packages.draft_document(
        db(), person_id=current_user.id, round_id=round_id, now=now()
    )
    close()
    name = f"draft-{document['lineup']['name']}-{document['round']['title']}.pdf"
    return _send(name.lower().replace(" ", "-"), make_draft(document, store()))


@bp.get("/rounds/<uuid:round_id>/package.pdf")
def package_file(round_id: UUID) -> ResponseReturnValue:
    """Send the package with the signatures made so far."""
    return _send(
        *packages.package_pdf(db(), person_id=current_user.id, round_id=round_id)
    )


def _send(name: str, pdf: bytes) -> ResponseReturnValue:
    return send_file(
        BytesIO(pdf),
        mimetype="application/pdf",
        as_attachment=True,
        download_name=name,
    )


def _package_page(round_id: UUID, form: SignForm) -> str:
    session = read_session()
    found = gate(session, person_id=current_user.id, round_id=round_id)
    sheet = round_overview(session, person_id=current_user.id, round_id=round_id)
    return render_template(
        "turnover/package.html",
        gate=found,
        head=sheet.head,
        form=form,
        package=packages.package_view(
            session, person_id=current_user.id, round_id=round_id
        ),
        meanings=packages.MEANINGS,
    )


def _waiver_page(round_id: UUID, performer_id: UUID, form: ReasonForm) -> str:
    found = gate(db(), person_id=current_user.id, round_id=round_id)
    sheet = round_overview(db(), person_id=current_user.id, round_id=round_id)
    return render_template(
        "turnover/waive.html",
        gate=found,
        head=sheet.head,
        form=form,
        performer=next((p for p in found.seals.missing if p.id == performer_id), None),
        performer_id=performer_id,
    )
