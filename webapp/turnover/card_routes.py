"""A card's record, and handing it back or taking it out of the programme."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.turnover import card_record as records
from models.services.turnover.lead_acts import return_card, withdraw_card
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.turnover.card_drawing import card_drawing
from webapp.turnover.forms import ReasonForm
from webapp.turnover.routes import bp


@bp.get("/cards/<uuid:card_id>")
def card(card_id: UUID) -> ResponseReturnValue:
    """Show everything on a card."""
    record = records.card_record(db(), person_id=current_user.id, card_id=card_id)
    return render_template(
        "turnover/card.html",
        record=record,
        head=record.head,
        curve=card_drawing(record),
    )


@bp.get("/readings/<uuid:reading_id>")
def card_of_reading(reading_id: UUID) -> ResponseReturnValue:
    """Go to a reading on its card."""
    record = records.card_of_reading(
        db(), person_id=current_user.id, reading_id=reading_id
    )
    page = url_for("turnover.card", card_id=record.card["id"])
    return redirect(f"{page}#reading-{reading_id}")


@bp.get("/cards/<uuid:card_id>/return")
def ask_return(card_id: UUID) -> ResponseReturnValue:
    """Ask why the card is handed back."""
    return _ask(card_id, "turnover/return.html", ReasonForm())


@bp.post("/cards/<uuid:card_id>/return")
def hand_back(card_id: UUID) -> ResponseReturnValue:
    """Hand the card back to the technician."""
    form = ReasonForm()
    try:
        return_card(
            db(),
            person_id=current_user.id,
            card_id=card_id,
            return_id=new_id(),
            reason=form.reason.data or "",
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return _ask(card_id, "turnover/return.html", form), 422
    commit()
    flash("The card is handed back; its signature no longer holds.")
    return redirect(url_for("turnover.card", card_id=card_id), code=303)


@bp.get("/cards/<uuid:card_id>/withdraw")
def ask_withdraw(card_id: UUID) -> ResponseReturnValue:
    """Ask why the card is left out."""
    return _ask(card_id, "turnover/withdraw.html", ReasonForm())


@bp.post("/cards/<uuid:card_id>/withdraw")
def withdraw(card_id: UUID) -> ResponseReturnValue:
    """Take the card out of the programme."""
    form = ReasonForm()
    try:
        withdraw_card(
            db(),
            person_id=current_user.id,
            card_id=card_id,
            withdrawal_id=new_id(),
            reason=form.reason.data or "",
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return _ask(card_id, "turnover/withdraw.html", form), 422
    commit()
    flash("The card is withdrawn; what is on it is kept and printed.")
    return redirect(url_for("turnover.card", card_id=card_id), code=303)


def _ask(card_id: UUID, template: str, form: ReasonForm) -> str:
    record = records.card_record(db(), person_id=current_user.id, card_id=card_id)
    return render_template(template, record=record, head=record.head, form=form)
