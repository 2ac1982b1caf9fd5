"""Add an instrument, change one, retire one; enter its calibrations."""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.people.access import person_of
from models.services.setup import calibrations, instruments
from models.services.setup.instruments import InstrumentEntry
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.instruments.forms import CalibrationForm, InstrumentForm
from webapp.instruments.routes import bp, instrument_page, require_set_up

MORE = "more"  # the button that asks for more rows


@bp.get("/new")
def new_instrument() -> ResponseReturnValue:
    """Ask for a new instrument."""
    require_set_up()
    return _form_page(InstrumentForm(formdata=None))


@bp.post("/new")
def add_instrument() -> ResponseReturnValue:
    """Add the instrument."""
    form, instrument_id = InstrumentForm(), new_id()
    require_set_up()
    if MORE in request.form:
        return _form_page(form)
    try:
        instruments.enter_instrument(
            db(),
            person_id=current_user.id,
            instrument_id=instrument_id,
            entry=form.entry(),
            now=now(),
        )
    except InputError as error:
        return _form_page(form, elsewhere=form.place(error)), 422
    commit()
    flash("The instrument is added. Next comes its calibration.")
    return redirect(url_for(".instrument", instrument_id=instrument_id), code=303)


@bp.get("/<uuid:instrument_id>/change")
def changing_instrument(instrument_id: UUID) -> ResponseReturnValue:
    """Show what the register says, to be changed."""
    entry = _entry(instrument_id)
    data = entry.as_json()
    form = InstrumentForm(formdata=None, data=_shown(data))
    form.seen.data = instruments.version_of(entry)
    return _form_page(form, entry=entry, instrument_id=instrument_id)


@bp.post("/<uuid:instrument_id>/change")
def change_instrument(instrument_id: UUID) -> ResponseReturnValue:
    """Change what the register says."""
    form, entry = InstrumentForm(), _entry(instrument_id)
    if MORE in request.form:
        return _form_page(form, entry=entry, instrument_id=instrument_id)
    try:
        changed = instruments.change_instrument(
            db(),
            person_id=current_user.id,
            instrument_id=instrument_id,
            entry=form.entry(),
            seen=form.seen.data or "",
            now=now(),
        )
    except InputError as error:
        faults = form.place(error)
        page = _form_page(
            form, entry=entry, instrument_id=instrument_id, elsewhere=faults
        )
        return page, 422
    commit()
    flash("The instrument is changed." if changed else "Nothing was changed.")
    return redirect(url_for(".instrument", instrument_id=instrument_id), code=303)


@bp.post("/<uuid:instrument_id>/retire")
def retire(instrument_id: UUID) -> ResponseReturnValue:
    """Offer the instrument no more, or again."""
    back = "back" in request.form
    instruments.retire_instrument(
        db(),
        person_id=current_user.id,
        instrument_id=instrument_id,
        on=None if back else now().date(),
        now=now(),
    )
    commit()
    flash("It is offered on cards again." if back else "It is offered no more.")
    return redirect(url_for(".instrument", instrument_id=instrument_id), code=303)


@bp.post("/<uuid:instrument_id>/calibrations")
def add_calibration(instrument_id: UUID) -> ResponseReturnValue:
    """Enter a calibration."""
    form = CalibrationForm()
    try:
        calibrations.enter_calibration(
            db(),
            person_id=current_user.id,
            instrument_id=instrument_id,
            calibration_id=new_id(),
            entry=form.entry(),
            now=now(),
        )
    except InputError as error:
        faults = place_faults(form, error)
        return instrument_page(instrument_id, form, faults), 422
    commit()
    flash("The calibration is entered.")
    return redirect(url_for(".instrument", instrument_id=instrument_id), code=303)


@bp.post("/<uuid:instrument_id>/calibrations/<uuid:calibration_id>/remove")
def remove_calibration(
    instrument_id: UUID, calibration_id: UUID
) -> ResponseReturnValue:
    """Take back a calibration that was entered amiss."""
    calibrations.remove_calibration(
        db(),
        person_id=current_user.id,
        instrument_id=instrument_id,
        calibration_id=calibration_id,
        now=now(),
    )
    commit()
    flash("The calibration is removed; the log keeps it.")
    return redirect(url_for(".instrument", instrument_id=instrument_id), code=303)


def _entry(instrument_id: UUID) -> InstrumentEntry:
    person = person_of(db(), current_user.id)
    row = instruments.instrument_of(db(), person, instrument_id, doing="set up")
    return instruments.entry_of(row)


def _shown(data: dict[str, object]) -> dict[str, object]:
    """Return an entry as the form's fields hold it: blank for what is not said."""
    ranges = data["ranges"]
    assert isinstance(ranges, list)
    rows = [{n: _text(v) for n, v in one.items()} for one in ranges]
    return {n: _text(v) for n, v in data.items() if n != "procedures"} | {
        "procedures": data["procedures"],
        "ranges": rows,
    }


def _text(value: object) -> str:
    return (
        ""
        if value is None
        else f"{value:.12g}"
        if isinstance(value, float)
        else str(value)
    )


def _form_page(
    form: InstrumentForm,
    *,
    entry: InstrumentEntry | None = None,
    instrument_id: UUID | None = None,
    elsewhere: list[str] | None = None,
) -> str:
    if all(not row.form.blank for row in form.ranges) or MORE in request.form:
        form.spare()
    return render_template(
        "instruments/form.html",
        form=form,
        entry=entry,
        instrument_id=instrument_id,
        elsewhere=elsewhere,
    )
