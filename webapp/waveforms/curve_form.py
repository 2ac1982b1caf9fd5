"""The form of a curve: which channel, between which moments, at which point."""

from typing import Any

from wtforms import Form, SelectField, StringField
from wtforms.fields.choices import SelectChoice

from models.errors import Fault, InputError
from models.judging import parse_number
from models.services.waveforms.timed_card import TimedCard, TimedPoint
from models.waveform.curve import Channel


class CurveForm(Form):
    """What is kept of a record, and at which point."""

    point = SelectField("Point", validate_choice=False)
    channel = SelectField("Channel", validate_choice=False)
    begins = StringField("From (ms)")
    ends = StringField("To (ms)")
    factor = StringField("One unit of the channel is")
    instrument = SelectField("Instrument", validate_choice=False)

    def offer(self, card: TimedCard, channels: list[Channel]) -> None:
        """Fill the lists; whatever is not chosen gets what is likely meant."""
        points = [(str(one.id), _point_words(one)) for one in card.points]
        following = card.next_point or (card.points[0] if card.points else None)
        self._list("point", points, str(following.id) if following else "")
        named = [(str(at), _words(one)) for at, one in enumerate(channels)]
        self._list("channel", named, "0")
        instruments = [(str(key), words) for key, words in card.instruments]
        first = instruments[0][0] if len(instruments) == 1 else ""
        self._list("instrument", [("", "choose"), *instruments], first)

    def _list(self, name: str, choices: list[tuple[str, str]], usual: str) -> None:
        field: Any = self[name]
        field.choices = [SelectChoice(*one) for one in choices]
        if field.data not in {value for value, _ in choices}:
            field.data = usual

    def chosen(self) -> dict[str, str]:
        """Return every field as text, for hidden fields."""
        return {name: str(field.data or "") for name, field in self._fields.items()}

    def number(self, name: str, blank: float) -> float:
        """Return what was typed; InputError at the field for what is no number."""
        text = (self[name].data or "").strip()
        if not text:
            return blank
        try:
            return parse_number(text)
        except InputError as error:
            faults = (Fault(field=name, message=one.message) for one in error.faults)
            raise InputError(*faults) from error


def _words(channel: Channel) -> str:
    return f"{channel.name} ({channel.unit})" if channel.unit else channel.name


def _point_words(point: TimedPoint) -> str:
    return f"{point.label} (has a reading)" if point.read else point.label
