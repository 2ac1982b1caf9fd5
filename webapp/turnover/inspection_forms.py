"""Forms of hold, witness and review points: they check shape, services decide."""

from collections.abc import Iterable
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import (
    DateTimeLocalField,
    PasswordField,
    RadioField,
    SelectField,
    StringField,
    TextAreaField,
)
from wtforms.fields.choices import SelectChoice

from models.record.inspection import KINDS

ANSWER_WORDS = {
    "released": "It is released: work may go on.",
    "present": "Present at the test.",
    "absent": "Absent after notice: work goes on without them.",
    "reviewed": "The record of this card is reviewed.",
    "withdrawn": "The point falls away.",
}


class SetPointForm(FlaskForm):
    """Which kind of point, whom it waits for, and why."""

    kind = RadioField(
        "Kind of point",
        choices=[SelectChoice(key, words) for key, words in KINDS.items()],
        validate_choice=False,
    )
    party_id = SelectField("Person with an account", validate_choice=False)
    party = StringField("Or somebody else: name and firm")
    notice_hours = StringField("Notice in hours", default="24")
    reason = TextAreaField("Reason")

    def offer(self, people: Iterable[tuple[UUID, str, str]]) -> None:
        """Set who may be named."""
        self.party_id.choices = [
            SelectChoice("", "nobody: written below"),
            *(SelectChoice(str(k), f"{name}, {firm}") for k, name, firm in people),
        ]


class NoticeForm(FlaskForm):
    """When the party was told, and when the work is done: times of the site."""

    given_at = DateTimeLocalField("Notice given", format="%Y-%m-%dT%H:%M")
    work_at = DateTimeLocalField("Work to be done", format="%Y-%m-%dT%H:%M")
    how = StringField("How, and to whom")


class PointAnswerForm(FlaskForm):
    """What came of a point, with a password."""

    answer = RadioField("Answer", validate_choice=False)
    remark = TextAreaField("Remark")
    password = PasswordField("Password")

    def offer(self, answers: Iterable[str]) -> None:
        """Set which answers may be given."""
        self.answer.choices = [SelectChoice(a, ANSWER_WORDS[a]) for a in answers]
