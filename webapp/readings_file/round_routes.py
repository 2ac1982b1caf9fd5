"""A file for several cards of a round: sent, looked at by card, recorded."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError
from models.services.readings_file.file_round import FileRound, file_round
from models.services.readings_file.kept_columns import kept_columns
from models.services.readings_file.take_round_rows import take_round_rows
from models.services.readings_file.taking import TriedRow
from webapp.clock import now
from webapp.db import close, read_session, write_session
from webapp.readings_file.forms import FileForm, RoundColumnsForm
from webapp.readings_file.importing import (
    Import,
    chosen_instrument,
    import_of,
    one_file,
)
from webapp.readings_file.routes import bp, record_all
from webapp.readings_file.sending import keep_sent, place_faults

NOTE = "Table of a test set: readings of cards of this round come from it."
MOST_READINGS = 1000  # of one file
SEVERAL = " for several cards"  # after the kind of file, where its columns are kept


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRows:
    """The rows for one card, as they were tried; *name* is "" where none is known."""

    card_id: UUID | None
    name: str
    rows: Sequence[TriedRow]

    @property
    def wrong(self) -> int:
        """How many rows have a fault."""
        return sum(one.status == "wrong" for one in self.rows)

    @property
    def known(self) -> int:
        """How many rows are on record already."""
        return sum(one.status == "known" for one in self.rows)

    @property
    def verdicts(self) -> Mapping[str, int]:
        """How many rows have each verdict, in the order that lists have."""
        each = [one.verdict for one in self.rows]
        words = ("within", "marginal", "outside", "unjudged")
        return {word: each.count(word) for word in words if word in each}


def _round(round_id: UUID) -> FileRound:
    return file_round(read_session(), person_id=current_user.id, round_id=round_id)


@bp.get("/rounds/<uuid:round_id>")
def round_files(round_id: UUID) -> ResponseReturnValue:
    """Show the tables of the round, and ask for one."""
    return render_template(
        "readings_file/round_files.html", round=_round(round_id), form=FileForm()
    )


@bp.post("/rounds/<uuid:round_id>")
def add_to_round(round_id: UUID) -> ResponseReturnValue:
    """Keep a table with the round and go on to its columns."""
    form = FileForm()
    round_ = _round(round_id)
    close()
    try:
        attachment_id = keep_sent(round_, "round", NOTE)
    except InputError as error:
        place_faults(form, error)
        page = render_template(
            "readings_file/round_files.html", round=round_, form=form
        )
        return page, 422
    way = url_for(".round_columns", round_id=round_id, attachment_id=attachment_id)
    return redirect(way, code=303)


def _import(round_id: UUID, attachment_id: UUID) -> Import:
    session = read_session()
    round_ = file_round(session, person_id=current_user.id, round_id=round_id)
    file = one_file(round_, attachment_id)
    instrument = chosen_instrument(round_)
    kind = file.kind.name + SEVERAL
    kept = kept_columns(session, instrument, kind) if instrument else None
    close()
    test = request.values.get("test", kept.columns.test if kept else "")
    round_ = round_.for_test(test)
    taking = import_of(round_, file, kept, RoundColumnsForm)
    if isinstance(taking.form, RoundColumnsForm):
        taking.form.offer_tests(round_.tests)
        taking.form.test.data = round_.test
    return taking


def _tried(taking: Import) -> list[TriedRow]:
    """Add the rows to a session that the caller commits, or closes."""
    if not taking.columns().test:
        raise InputError(Fault(field="test", message="Choose the test."))
    return take_round_rows(
        write_session(),
        person_id=current_user.id,
        round_id=taking.of.id,
        columns=taking.columns(),
        file=taking.file_of(),
        rows=taking.read(MOST_READINGS),
        now=now(),
    )


@bp.get("/rounds/<uuid:round_id>/<uuid:attachment_id>")
def round_columns(round_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Ask for the columns; show what the rows would be, card by card."""
    return _page(_import(round_id, attachment_id))


@bp.post("/rounds/<uuid:round_id>/<uuid:attachment_id>")
def record_on_round(round_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Record all rows of all cards, or none where one is wrong."""
    taking = _import(round_id, attachment_id)
    if not record_all(taking, _tried, taking.file.kind.name + SEVERAL):
        return _page(taking), 422
    return redirect(url_for(".round_files", round_id=round_id), code=303)


def _page(taking: Import) -> str:
    tried: list[TriedRow] = []
    if taking.looking and taking.instrument_id:
        try:
            tried = _tried(taking)
        except InputError as error:
            for one in error.faults:
                taking.form[one.field].errors = [one.message]
    close()  # nothing of what was tried stays
    round_ = taking.of
    assert isinstance(round_, FileRound)
    return render_template(
        "readings_file/round_columns.html",
        taking=taking,
        round=round_,
        tried=tried,
        cards=by_card(tried, round_.cards),
        wrong=sum(one.status == "wrong" for one in tried),
        chosen=request.values.items(),
    )


def by_card(tried: Sequence[TriedRow], names: Mapping[UUID, str]) -> list[CardRows]:
    """Return the rows card by card: those of no card first, then those with faults."""
    keys = [None, *names]
    rows: dict[UUID | None, list[TriedRow]] = {key: [] for key in keys}
    for one in tried:
        rows[one.card_id].append(one)
    cards = [
        CardRows(card_id=key, name=names[key] if key else "", rows=own)
        for key, own in rows.items()
        if own
    ]
    return sorted(cards, key=lambda card: not card.wrong)
