"""People, days and added cards of a round that is open."""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError, NotFoundError
from models.services.planning.change_round import RoundChanges
from models.services.turnover.pages import Page, start_of
from models.services.turnover.round_overview import (
    CardLine,
    CellOverview,
    round_overview,
)
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.looked_for import page_number
from webapp.planning.change_routes import read_day, read_person
from webapp.planning.forms import AddCardForm
from webapp.planning.routes import bp

CARDS = 20  # of a page: it stays below 3,000 px on a tablet held upright


@bp.get("/rounds/<uuid:round_id>")
def people_and_days(round_id: UUID) -> ResponseReturnValue:
    """Show who does which cards of an open round, and when."""
    return _page(round_id)


@bp.post("/rounds/<uuid:round_id>/cards")
def change_round(round_id: UUID) -> ResponseReturnValue:
    """Give the cards to somebody, or plan their day."""
    change = _changes(round_id)
    try:
        cards = _cards(round_id)
        if request.form.get("act") == "assign":
            change.assign(cards, read_person(request.form))
        elif request.form.get("act") == "schedule":
            change.schedule(cards, read_day(request.form))
        else:
            raise InputError(Fault(field="act", message="Choose what is to be done."))
    except InputError as error:
        return _page(round_id, [fault.message for fault in error.faults]), 422
    commit()
    flash("The schedule of the round is changed.")
    back = url_for(
        ".people_and_days",
        round_id=round_id,
        cell=request.form.get("cell"),
        page=request.args.get("page"),
    )
    return redirect(back, code=303)


@bp.get("/rounds/<uuid:round_id>/add")
def adding_to_round(round_id: UUID) -> ResponseReturnValue:
    """Ask for a card to be added to an open round."""
    return _add_page(round_id, AddCardForm(formdata=None))


@bp.post("/rounds/<uuid:round_id>/add")
def add_to_round(round_id: UUID) -> ResponseReturnValue:
    """Add the card to the round."""
    form = AddCardForm()
    try:
        card_id = _changes(round_id).add_card(
            apparatus_id=form.apparatus_id,
            procedure=form.procedure.data or "",
            detail=form.detail.data or "",
            labels=form.labels,
            reason=form.reason.data or "",
            new_id=new_id,
        )
    except InputError as error:
        return _add_page(round_id, form, place_faults(form, error)), 422
    commit()
    flash("The card is in the round. Tablets get it with their next signal.")
    return redirect(url_for("turnover.card", card_id=card_id), code=303)


def _changes(round_id: UUID) -> RoundChanges:
    return RoundChanges(db(), person_id=current_user.id, round_id=round_id, now=now())


def _cards(round_id: UUID) -> list[UUID]:
    """Return the cards that are ticked, or all of a procedure."""
    scope = request.form.get("scope", "")
    if not scope:
        try:
            return [UUID(one) for one in request.form.getlist("cards")]
        except ValueError as error:
            raise NotFoundError("card", "") from error
    found = round_overview(db(), person_id=current_user.id, round_id=round_id)
    return [
        card.id
        for cell in found.cells
        for card in cell.standing
        if scope in ("all", f"cell {cell.id}", f"title {card.title}")
    ]


def _page(round_id: UUID, faults: list[str] | None = None) -> str:
    found = round_overview(db(), person_id=current_user.id, round_id=round_id)
    cell = _chosen([one for one in found.cells if one.cards])
    return render_template(
        "planning/round.html",
        sheet=found,
        head=found.head,
        cell=cell,
        page=_rows_of(cell),
        crew=_changes(round_id).choosable().crew,
        titles=sorted({card.title for one in found.cells for card in one.cards}),
        faults=faults or [],
        typed=request.form,
    )


def _rows_of(cell: CellOverview | None) -> Page[CardLine]:
    """Return the cards of the cell that are on the page that is asked for."""
    standing = cell.standing if cell else []
    last = max(1, -(-len(standing) // CARDS))
    number = min(max(1, page_number()), last)
    start = start_of(number, CARDS)
    return Page(
        rows=standing[start : start + CARDS],
        total=len(standing),
        number=number,
        size=CARDS,
    )


def _chosen(cells: list[CellOverview]) -> CellOverview | None:
    asked = request.values.get("cell", "")
    found = [one for one in cells if str(one.id) == asked]
    return next(iter(found or cells), None)


def _add_page(
    round_id: UUID, form: AddCardForm, elsewhere: list[str] | None = None
) -> str:
    found = round_overview(db(), person_id=current_user.id, round_id=round_id)
    choosable = _changes(round_id).choosable()
    form.offer(
        (
            one.id,
            f"{one.stands_in} · {one.label}",
            [(p.name, p.title) for p in procedures],
        )
        for one, procedures in choosable.apparatus
    )
    return render_template(
        "planning/add.html",
        plan=None,
        form=form,
        elsewhere=elsewhere or [],
        back=url_for(".people_and_days", round_id=round_id),
        what=f"{found.head.lineup_name} · {found.head.title}",
    )
