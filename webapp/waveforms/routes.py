"""Measure a time in a record, look at its verdict, record it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import ConflictError, InputError, NotFoundError
from models.services.keeping.attachments import AttachmentView
from models.services.waveforms.timed_card import TimedCard, TimedPoint, timed_card
from models.services.waveforms.timed_reading import (
    TimedReading,
    judged_beforehand,
    record_time,
)
from models.waveform.read import Waveform, read_waveform
from webapp.clock import now
from webapp.db import close, commit, read_session, write_session
from webapp.file_store import store
from webapp.waveforms.forms import MEASURED, MeasureForm, RecordForm
from webapp.waveforms.shown import (
    SECONDS,
    Shown,
    current_said,
    measured_in,
    picture,
)

bp = Blueprint(
    "waveforms", __name__, url_prefix="/waveforms", template_folder="templates"
)
CONDITION = "condition-"  # before the name of a condition in the form
AGREED_A = 4  # significant digits of a current that is read from a record


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Measuring:
    """A card, one of its records, and what is chosen of it."""

    card: TimedCard
    file: AttachmentView
    record: Waveform
    form: MeasureForm
    conditions: Mapping[str, str]

    @property
    def point(self) -> TimedPoint | None:
        """The point that is chosen."""
        data = self.form.point.data or ""
        return next((one for one in self.card.points if str(one.id) == data), None)

    @property
    def page(self) -> str:
        """The page's address."""
        return url_for(
            "waveforms.measure", card_id=self.card.id, attachment_id=self.file.id
        )

    def shown(self) -> Shown:
        """Measure; InputError at the field that has to be chosen anew."""
        return measured_in(self.record, self.form.measured(self.point), self.card.unit)

    def reading(self, shown: Shown, reason: str = "") -> TimedReading:
        """Return the reading as it is to be recorded."""
        assert self.point is not None
        instrument = self.form.instrument.data
        known = {str(key): key for key, _ in self.card.instruments}
        return TimedReading(
            point_id=self.point.id,
            text=shown.text,
            unit=shown.unit,
            conditions=self._conditions(shown),
            instrument_id=known.get(instrument or ""),
            reason=reason,
            measured_by=f"{self.file.digest} {shown.choice}",
            note=f"{shown.text} {shown.unit} measured in {self.file.name} (SHA-256 "
            f"{self.file.digest[:16]}…), {shown.note}",
        )

    def _conditions(self, shown: Shown) -> dict[str, Any]:
        found: dict[str, Any] = dict(self.conditions)
        amperes = shown.current and shown.current.on(self.form.side.data or "")
        if self.form.applied.data == MEASURED and self.card.measured == "trip":
            found["applied_a"] = f"{amperes:.{AGREED_A}g}" if amperes else ""
        return found


def _measuring(card_id: UUID, attachment_id: UUID) -> _Measuring:
    """Return what the page is about; the database waits for no file."""
    card = timed_card(read_session(), person_id=current_user.id, card_id=card_id)
    file = next((one for one in card.files if one.id == attachment_id), None)
    if file is None:
        raise NotFoundError("waveform record", attachment_id)
    close()
    with store().open(file.digest) as kept:
        record = read_waveform(kept.read())
    form = MeasureForm(request.values)
    form.offer(card, record)
    point = card.point(UUID(form.point.data)) if form.point.data else None
    conditions = {
        ask["name"]: request.values.get(
            CONDITION + ask["name"], str(card.defaults.get(ask["name"], ""))
        )
        for ask in card.asks
        if not ask["choices"] and not (point and ask["name"] in point.given)
    }
    return _Measuring(
        card=card, file=file, record=record, form=form, conditions=conditions
    )


@bp.get("/cards/<uuid:card_id>/<uuid:attachment_id>")
def measure(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Show the record drawn, the time that is chosen, and its verdict."""
    return _page(_measuring(card_id, attachment_id), RecordForm())


@bp.post("/cards/<uuid:card_id>/<uuid:attachment_id>")
def store_time(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Record the time at its point, and how it was measured as a note."""
    measuring = _measuring(card_id, attachment_id)
    form = RecordForm()
    try:
        if measuring.point is None:
            return _page(measuring, form, ["Choose the point."]), 422
        taken = measuring.reading(measuring.shown(), (form.reason.data or "").strip())
        stored = record_time(
            write_session(),
            person_id=current_user.id,
            card_id=card_id,
            taken=taken,
            taken_at=form.taken_at(measuring.card.zone, now()),
            now=now(),
        )
    except InputError as error:
        faults = [one.message for one in error.faults]
        return _page(measuring, form, faults), 422
    except ConflictError as error:
        return _page(measuring, form, [str(error)]), 409
    commit()
    said = f"{taken.text} {taken.unit} at {measuring.point.label}"
    if stored:
        flash(f"{said} is recorded.")
    else:
        flash(
            f"{said} is on record already, from this file and choice: nothing is new."
        )
    return redirect(url_for(".records", card_id=card_id), code=303)


def _page(
    measuring: _Measuring, record_form: RecordForm, faults: list[str] | None = None
) -> str:
    shown: Shown | None = None
    wrong: dict[str, str] = {}
    try:
        shown = measuring.shown()
    except InputError as error:
        wrong = {one.field: one.message for one in error.faults}
    form, point = measuring.form, measuring.point
    for name, message in wrong.items():
        if name in form._fields:
            form[name].errors = [message]
    given = point.given.get("applied_a") if point else None
    current = (
        current_said(shown.current, form.side.data or "", given)
        if shown and shown.current
        else None
    )
    return render_template(
        "waveforms/measure.html",
        card=measuring.card,
        file=measuring.file,
        record=measuring.record,
        form=form,
        record_form=record_form,
        conditions=measuring.conditions,
        point=point,
        shown=shown,
        wrong=wrong,
        current=current,
        judged=_judged(measuring, shown),
        drawn=picture(measuring.record, form.chosen(), shown, measuring.page),
        page=measuring.page,
        faults=faults,
    )


def _judged(measuring: _Measuring, shown: Shown | None) -> dict[str, Any] | None:
    """Return the judgement beforehand, with whether a limit lies too near to tell."""
    if shown is None or measuring.point is None:
        return None
    try:
        found = judged_beforehand(
            read_session(),
            person_id=current_user.id,
            card_id=measuring.card.id,
            taken=measuring.reading(shown),
            now=now(),
        )
    except InputError as error:
        return {"faults": [one.message for one in error.faults]}
    return {**found, "too_near": _too_near(found, shown)}


def _too_near(judgement: Mapping[str, Any], shown: Shown) -> bool:
    """Return whether a limit is nearer than the record is sure to."""
    value = judgement["corrected"]
    limits = (judgement["limit_low"], judgement["limit_high"])
    unsure = shown.measured.unsure_s * SECONDS.get(judgement["corrected_unit"], 1.0)
    return value is not None and any(
        limit is not None and abs(value - limit) <= unsure for limit in limits
    )
