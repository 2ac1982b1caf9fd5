"""The gas page: one pressure along the line of constant density."""

from flask import render_template, request
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.criteria.gas import sf6_cites
from models.criteria.required import source_of
from models.errors import InputError
from models.services.criteria.checked_tables import organisation_criteria
from webapp.db import db
from webapp.drawing.gas_line import gas_line
from webapp.form_faults import place_faults
from webapp.library.forms import GasForm
from webapp.library.gas import GasAnswer, carry_gas
from webapp.library.pictures import drawn
from webapp.library.routes import REFUSED, bp


@bp.get("/gas")
def gas() -> ResponseReturnValue:
    """Show the form, and the pressure at the other temperature."""
    asked = "pressure" in request.args
    form = GasForm(request.args if asked else None)
    answer: GasAnswer | None = None
    faults: list[str] = []
    criteria = organisation_criteria(db(), person_id=current_user.id)
    if asked:
        typed = {field.name: (field.data or "").strip() for field in form}
        try:
            answer = carry_gas(typed, criteria)
        except InputError as error:
            faults = place_faults(form, error)
    page = render_template(
        "library/gas.html",
        form=form,
        answer=answer,
        faults=faults,
        picture=drawn(gas_line(answer.carried, answer.line)) if answer else "",
        sources=[source_of(cite) for cite in sf6_cites(criteria)],
    )
    return page, REFUSED if asked and answer is None else 200
