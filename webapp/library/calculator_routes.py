"""The calculator: a reading that nobody keeps, judged with the rules of the record."""

from collections.abc import Mapping

from flask import Response, jsonify, render_template, request
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.criteria.required import Source, source_of
from models.errors import InputError
from models.judging import Criteria
from models.procedures import PROCEDURES, Procedure
from models.services.criteria.checked_tables import organisation_criteria
from webapp.db import db
from webapp.form_faults import place_faults
from webapp.library.calculator import (
    VALUE,
    Answer,
    curve_choices,
    procedure_named,
    rule_for,
    work_out,
)
from webapp.library.form_fields import (
    FormField,
    condition_fields,
    reading_fields,
    row_fields,
    subject_fields,
)
from webapp.library.forms import calculator_form
from webapp.library.pictures import curve_picture
from webapp.library.routes import REFUSED, bp


@bp.get("/calculator")
def calculator() -> ResponseReturnValue:
    """Show the form, and the verdict on what was typed into it."""
    procedure = procedure_named(request.args.get("procedure", ""))
    # It opens with an example; *Clear* and whatever is typed take its place.
    example = not request.args.keys() - {"procedure"} and bool(procedure.example)
    args = procedure.example if example else request.args
    typed = {name: value for name, value in args.items() if value}
    parts = _parts(procedure)
    form = calculator_form(
        procedure, [e for part in parts.values() for e in part], typed
    )
    answer: Answer | None = None
    faults: list[str] = []
    asked = any(name in args for name in VALUE)
    if asked:
        try:
            answer = work_out(procedure, typed, _criteria())
        except InputError as error:
            faults = place_faults(form, error)
    page = render_template(
        "library/calculator.html",
        procedure=procedure,
        procedures=sorted(PROCEDURES.values(), key=lambda one: one.title.casefold()),
        carried=_carried(request.args),
        example=example,
        parts=parts,
        form=form,
        answer=answer,
        curve=curve_picture(answer) if answer else "",
        sources=_sources(answer) if answer else [],
        faults=faults,
    )
    return page, REFUSED if asked and answer is None else 200


@bp.get("/rule.json")
def rule() -> tuple[Response, int]:
    """Send the rule for the chosen subject, for the reader in the browser."""
    procedure = procedure_named(request.args.get("procedure", ""))
    try:
        found = rule_for(procedure, request.args, _criteria())
    except InputError as error:
        faults = [{"field": f.field, "message": f.message} for f in error.faults]
        return jsonify({"faults": faults}), REFUSED
    sources = [source_of(cite) for cite in found.cite]
    keys = {source.words: source.key for source in sources if source.key}
    return jsonify({"rule": found.to_json(), "tables": keys}), 200


def _criteria() -> Criteria:
    """Return the tables as the organisation of who is asking checked them."""
    return organisation_criteria(db(), person_id=current_user.id)


def _parts(procedure: Procedure) -> dict[str, list[FormField]]:
    """Return the fields in the parts in which the page shows them."""
    subject = subject_fields(procedure.name, curve_choices(_criteria()))
    return {
        "reading": list(reading_fields(procedure)),
        "conditions": [*condition_fields(procedure), *row_fields(procedure)],
        "subject": list(subject),
    }


def _sources(answer: Answer) -> list[Source]:
    """Return what the verdict rests on, each once."""
    return list(dict.fromkeys(map(source_of, answer.judgement["cite"])))


def _carried(typed: Mapping[str, str]) -> dict[str, str]:
    """Return what another procedure may use of what was typed."""
    kept = (
        *("gear", "rated_kv", "rated_withstand_kv"),
        *("temperature_c", "air_temperature_c", "humidity_pct"),
    )
    return {name: typed[name] for name in kept if typed.get(name)}
