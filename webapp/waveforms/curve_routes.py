"""Keep a curve of a record with a reading: the channel, the moments, the point."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user
from markupsafe import Markup

from models.errors import ConflictError, InputError, NotFoundError
from models.judging.quantities import said_unit
from models.judging.series import Series
from models.judging.wording import figure
from models.services.keeping.attachments import AttachmentView
from models.services.waveforms.from_curve import marks_of, read_from_curve
from models.services.waveforms.timed_card import (
    TABLES,
    TimedCard,
    TimedPoint,
    timed_card,
)
from models.services.waveforms.timed_reading import (
    TimedReading,
    judged_beforehand,
    record_time,
)
from models.waveform.curve import Channel, channels_of, per_unit, row_steps, row_text
from models.waveform.read import read_waveform
from models.waveform.refusal import refused
from models.waveform.table import read_table
from webapp.clock import now
from webapp.db import close, commit, read_session, write_session
from webapp.drawing.series_curve import Row, series_curve
from webapp.drawing.svg import svg
from webapp.file_store import store
from webapp.waveforms.curve_form import CurveForm
from webapp.waveforms.forms import RecordForm
from webapp.waveforms.routes import bp

WORST = 1e12  # ms: the end of every record


@dataclass(frozen=True, slots=True, kw_only=True)
class _Curve:
    """A curve as it is chosen: the row, what it comes to, and its drawing."""

    row: str
    text: str  # the reading; empty where the curve does not have it
    marks: dict[str, float]
    drawn: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class _Choosing:
    """A card, one of its files, and what is chosen of it."""

    card: TimedCard
    kind: Series
    file: AttachmentView
    channels: list[Channel]
    form: CurveForm

    @property
    def point(self) -> TimedPoint | None:
        data = self.form.point.data or ""
        return next((one for one in self.card.points if str(one.id) == data), None)

    @property
    def page(self) -> str:
        """The page's address."""
        return url_for(".curve", card_id=self.card.id, attachment_id=self.file.id)

    @property
    def channel(self) -> Channel:
        return self.channels[int(self.form.channel.data or 0)]

    def curve(self) -> _Curve:
        """Return what is chosen; InputError at the field that is to be changed."""
        factor = self.form.number("factor", per_unit(self.channel, self.kind) or 0.0)
        if factor == 0:
            unit = said_unit(self.kind.unit)
            raise refused(
                f"{self.channel.name} is in '{self.channel.unit}', and the curve is in "
                f"{unit}: say how many {unit} one unit of the channel is.",
                "factor",
            )
        row = row_text(
            self.channel,
            self.kind,
            from_ms=self.form.number("begins", -WORST),
            to_ms=self.form.number("ends", WORST),
            factor=factor,
        )
        steps = row_steps(self.kind, row)
        point = self.point
        given = point.given if point else {}
        value = read_from_curve(self.kind, steps, given, self.card.plate)
        marks = marks_of(self.kind, steps)
        row_drawn = Row(steps=steps, marks=marks)
        drawing = series_curve(self.kind, [row_drawn], self.kind.unit)
        return _Curve(
            row=row,
            text="" if value is None else figure(value),
            marks=marks,
            drawn=Markup(svg(drawing) if drawing else ""),  # noqa: S704 (escaped there)
        )

    def reading(self, curve: _Curve, reason: str = "") -> TimedReading:
        """Return the reading as it is to be recorded, the row with it."""
        assert self.point is not None
        known = {str(key): key for key, _ in self.card.instruments}
        chosen = self.form.chosen()
        where = f"{self.channel.name}, {chosen['begins'] or 'its beginning'} to "
        where += f"{chosen['ends'] or 'its end'} ms"
        return TimedReading(
            point_id=self.point.id,
            text=curve.text,
            unit=self.card.unit,
            conditions={self.kind.name: curve.row},
            instrument_id=known.get(chosen["instrument"]),
            reason=reason,
            measured_by=f"{self.file.digest} {sorted(chosen.items())}",
            note=f"{curve.text} {self.card.unit} and the curve from {self.file.name} "
            f"(SHA-256 {self.file.digest[:16]}…), {where}",
        )


def read_curves(kept: bytes, kind: str) -> list[Channel]:
    """Return the channels of a record or a table; InputError says what is wrong."""
    if kind in TABLES:
        return read_table(kept)
    return channels_of(read_waveform(kept))


def _choosing(card_id: UUID, attachment_id: UUID) -> _Choosing:
    card = timed_card(read_session(), person_id=current_user.id, card_id=card_id)
    file = next((one for one in card.files if one.id == attachment_id), None)
    if file is None or card.curve is None:
        raise NotFoundError("record of a curve", attachment_id)
    close()
    with store().open(file.digest) as kept:
        channels = read_curves(kept.read(), file.kind.name)
    if not channels:
        raise refused("This record has no analog channel: it holds no curve.")
    form = CurveForm(request.values)
    form.offer(card, channels)
    return _Choosing(
        card=card, kind=card.curve, file=file, channels=channels, form=form
    )


@bp.get("/cards/<uuid:card_id>/<uuid:attachment_id>/curve")
def curve(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Show the curve that is chosen, what it comes to, and the verdict."""
    return _page(_choosing(card_id, attachment_id), RecordForm())


@bp.post("/cards/<uuid:card_id>/<uuid:attachment_id>/curve")
def store_curve(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Record the reading at its point, with the curve as its row."""
    choosing, form = _choosing(card_id, attachment_id), RecordForm()
    try:
        if choosing.point is None:
            return _page(choosing, form, ["Choose the point."]), 422
        taken = choosing.reading(choosing.curve(), (form.reason.data or "").strip())
        stored = record_time(
            write_session(),
            person_id=current_user.id,
            card_id=card_id,
            taken=taken,
            taken_at=form.taken_at(choosing.card.zone, now()),
            now=now(),
        )
    except InputError as error:
        return _page(choosing, form, [one.message for one in error.faults]), 422
    except ConflictError as error:
        return _page(choosing, form, [str(error)]), 409
    commit()
    said = f"{taken.text} {taken.unit} at {choosing.point.label}, with its curve,"
    flash(f"{said} is recorded." if stored else f"{said} is on record already.")
    return redirect(url_for(".records", card_id=card_id), code=303)


def _page(
    choosing: _Choosing, record_form: RecordForm, faults: list[str] | None = None
) -> str:
    chosen: _Curve | None = None
    try:
        chosen = choosing.curve()
    except InputError as error:
        for one in error.faults:
            field = {"from": "begins"}.get(one.field, one.field)
            if field in choosing.form._fields:
                choosing.form[field].errors = [one.message]
            else:
                faults = [*(faults or []), one.message]
    return render_template(
        "waveforms/curve.html",
        card=choosing.card,
        kind=choosing.kind,
        unit=said_unit(choosing.kind.unit),
        file=choosing.file,
        form=choosing.form,
        record_form=record_form,
        point=choosing.point,
        curve=chosen,
        judged=_judged(choosing, chosen),
        page=choosing.page,
        faults=faults,
    )


def _judged(choosing: _Choosing, curve: _Curve | None) -> dict[str, Any] | None:
    """Return the judgement beforehand; None where there is nothing to judge."""
    if curve is None or choosing.point is None or not curve.text:
        return None
    try:
        return judged_beforehand(
            read_session(),
            person_id=current_user.id,
            card_id=choosing.card.id,
            taken=choosing.reading(curve),
            now=now(),
        )
    except InputError as error:
        return {"faults": [one.message for one in error.faults]}
