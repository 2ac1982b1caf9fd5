"""Rounds, the round document, entries in, signatures."""

from uuid import UUID

from flask import Blueprint, Response, jsonify, render_template
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required
from flask_wtf.csrf import generate_csrf

from models.services.field.accept_entries import accept_entries
from models.services.field.round_document import round_document
from models.services.field.see_round import see_round
from models.services.field.sign_cards import sign_cards
from models.services.tablets.calls import note_call
from models.services.tablets.revoked import require_admitted
from models.services.turnover.list_rounds import list_rounds
from webapp.clock import now
from webapp.db import commit, db, read_session, write_session
from webapp.drawing import symbols
from webapp.field.program import LIST, loaded_by_page
from webapp.field.sent import read_body, read_envelope
from webapp.field.shell import shell
from webapp.field.shell_page import shell_page
from webapp.field.signing_call import read_signing_call
from webapp.first_steps_shown import steps_before_a_round
from webapp.guessing import counted_try
from webapp.looked_for import wanted

bp = Blueprint("field", __name__, url_prefix="/field", template_folder="templates")


@bp.get("/")
@login_required
def rounds() -> str:
    """Show the rounds this person may work on."""
    page = list_rounds(db(), person_id=current_user.id, yours_first=True, **wanted())
    return render_template(
        "field/rounds.html",
        page=page,
        program=shell().version,
        **loaded_by_page(LIST),
        steps=[] if page.total else steps_before_a_round(),
    )


@bp.get("/rounds/<uuid:round_id>/")
@login_required
def round_page(round_id: UUID) -> Response:
    """Show the application's page; all else comes with the round document."""
    see_round(db(), person_id=current_user.id, round_id=round_id)
    return shell_page()


@bp.get("/rounds/<uuid:round_id>/document.json")
@login_required
def document(round_id: UUID) -> Response:
    """Return all that a tablet needs to work on the round."""
    found = round_document(
        db(), person_id=current_user.id, round_id=round_id, now=now()
    )
    return jsonify({**found, "symbols": symbols(found["lineup"]["gear"])})


@bp.get("/csrf.json")
@login_required
def csrf_token() -> Response:
    """Return a fresh token: an entry may have waited for longer than a page lives."""
    return jsonify({"token": generate_csrf()})


@bp.post("/rounds/<uuid:round_id>/entries")
@login_required
def entries(round_id: UUID) -> ResponseReturnValue:
    """Take in entries; each stands alone, and sending twice does no harm."""
    sent = read_envelope(read_body())
    if sent.person not in (None, current_user.id):
        return another_recorded()
    session, moment = write_session(), now()
    if sent.tablet:
        require_admitted(session, sent.tablet)
    results = accept_entries(
        session,
        person_id=current_user.id,
        round_id=round_id,
        device=sent.device,
        entries=sent.entries,
        now=moment,
    )
    if sent.tablet:
        note_call(
            session,
            person_id=current_user.id,
            round_id=round_id,
            tablet_id=sent.tablet,
            program=sent.program,
            left=sent.left,
            now=moment,
        )
    commit()
    return jsonify({"results": results})


def another_recorded() -> ResponseReturnValue:
    """Answer who sends what somebody else recorded; nothing of it is looked at."""
    message = (
        f"{current_user.name} is signed in here, and somebody else recorded this: "
        "it is sent once they sign in. Nothing was stored."
    )
    faults = [{"field": "person", "message": message}]
    return jsonify({"faults": faults, "state": "sign-in"}), 401


@bp.post("/rounds/<uuid:round_id>/signatures")
@login_required
def signatures(round_id: UUID) -> Response:
    """Sign cards as performed: needs the password, so it never waits in an outbox."""
    call = read_signing_call(read_body())
    with counted_try(current_user.view.sign_in):
        cards = sign_cards(
            write_session(),
            person_id=current_user.id,
            round_id=round_id,
            card_ids=call.card_ids,
            password=call.password,
            seen=call.seen,
            intents=call.intents,
            now=now(),
        )
        commit()
    read_session()
    return jsonify({"cards": cards})
