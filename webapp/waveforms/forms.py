"""The form of a measurement: what is chosen, in the address and in what is recorded."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask_wtf import FlaskForm
from flask_wtf.file import MultipleFileField
from wtforms import Form, SelectField, StringField
from wtforms.fields.choices import SelectChoice

from models.errors import Fault, InputError
from models.services.waveforms.timed_card import TimedCard, TimedPoint
from models.waveform.current import in_amperes
from models.waveform.measure import BEFORE, BOUNCE, EDGES, FIRST, LAST, NORMAL, RESTS
from models.waveform.outline import changing_status, first_changing
from models.waveform.read import Waveform
from models.waveform.starts import (
    CHANNEL,
    ONSET,
    THRESHOLD_PCT,
    THRESHOLDS_PCT,
    TRIGGER,
)

# A contact is timed to its first touch, or to its last parting.
EDGE_OF = {"open": LAST, "bounce": BOUNCE}
GIVEN, MEASURED = "given", "measured"
SIDES = {"": "as recorded", "P": "primary", "S": "secondary"}
VIEWS = {
    "whole": "the whole record",
    "near": "around the time",
    "start": "around the start",
    "end": "around the end",
}


class FilesForm(FlaskForm):
    """The files of a record."""

    files = MultipleFileField("Files of the record")


class MeasureForm(Form):
    """What is measured, at which point, and how it is to be recorded."""

    start = SelectField("Start", validate_choice=False)
    end = SelectField("End", validate_choice=False)
    edge = SelectField("The time ends at", validate_choice=False)
    rest = SelectField("A change is away from", validate_choice=False)
    threshold = SelectField("Threshold of an onset", validate_choice=False)
    after = StringField("Look from (ms)")
    view = SelectField("Draw", validate_choice=False)
    point = SelectField("Point", validate_choice=False)
    instrument = SelectField("Instrument", validate_choice=False)
    channel = SelectField("Current channel", validate_choice=False)
    side = SelectField("On the base of", validate_choice=False)
    applied = SelectField("Record as applied current", validate_choice=False)

    def offer(self, card: TimedCard, record: Waveform) -> None:
        """Fill the lists; whatever is not chosen gets what is likely meant."""
        self._offer_record(record, trip=card.measured == "trip")
        points = [(str(one.id), _point_words(one)) for one in card.points]
        following = card.next_point or (card.points[0] if card.points else None)
        self._list("point", points, str(following.id) if following else "")
        instruments = [(str(key), words) for key, words in card.instruments]
        first = instruments[0][0] if len(instruments) == 1 else ""
        self._list("instrument", [("", "choose"), *instruments], first)

    def _offer_record(self, record: Waveform, *, trip: bool) -> None:
        status = [(str(at), one.name) for at, one in enumerate(record.status)]
        analog = [(at, one.name) for at, one in enumerate(record.analog)]
        onsets = [(f"{ONSET}:{at}", f"onset of {name}") for at, name in analog]
        channels = [(f"{CHANNEL}:{at}", f"change of {name}") for at, name in status]
        likely = first_changing(record)
        self._list(
            "start",
            [*onsets, (TRIGGER, "trigger of the record"), *channels],
            f"{ONSET}:{likely}" if likely >= 0 and record.cycle_s else TRIGGER,
        )
        self._list("end", status, str(next(iter(changing_status(record)), "")))
        self._list("edge", [("", "what the point asks for"), *EDGES.items()], "")
        self._list("rest", list(RESTS.items()), NORMAL if trip else BEFORE)
        thresholds = [
            (f"{one:g}", f"{one:g} % of the greatest change") for one in THRESHOLDS_PCT
        ]
        self._list("threshold", thresholds, f"{THRESHOLD_PCT:g}")
        self._list("view", list(VIEWS.items()), "whole")
        currents = [
            (str(at), one.name)
            for at, one in enumerate(record.analog)
            if in_amperes(one)
        ]
        self._list("channel", currents, str(likely))
        self._list("side", list(SIDES.items()), "")
        applied = [(GIVEN, "what the point gives"), (MEASURED, "what the record shows")]
        self._list("applied", applied, GIVEN)

    def _list(self, name: str, choices: list[tuple[str, str]], usual: str) -> None:
        field: Any = self[name]
        field.choices = [SelectChoice(*one) for one in choices]
        if field.data not in {value for value, _ in choices}:
            field.data = usual

    def chosen(self) -> dict[str, str]:
        """Return every field as text, for an address or hidden fields."""
        return {name: str(field.data or "") for name, field in self._fields.items()}

    def measured(self, point: TimedPoint | None) -> dict[str, str]:
        """Return what is chosen, the edge being that of the point's operation."""
        asked = EDGE_OF.get(str(point.given.get("operation")) if point else "", FIRST)
        return {**self.chosen(), "edge": self.edge.data or asked}


def _point_words(point: TimedPoint) -> str:
    return f"{point.label} (has a reading)" if point.read else point.label


class RecordForm(FlaskForm):
    """What is typed when a time is recorded besides what is chosen."""

    reason = StringField("Why it is measured again")
    taken = StringField("Taken, in the site's time")

    def taken_at(self, zone: str, now: datetime) -> datetime:
        """Return when the shot was taken; InputError for what is no time."""
        typed = (self.taken.data or "").strip()
        if not typed:
            return now
        try:
            return datetime.fromisoformat(typed).replace(tzinfo=ZoneInfo(zone))
        except (ValueError, OverflowError) as error:
            message = "Write day and time as 2026-11-30T14:05, in the site's time."
            raise InputError(Fault(field="taken", message=message)) from error
