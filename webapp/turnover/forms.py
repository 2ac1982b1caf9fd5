"""Forms of the turnover pages: they check shape, services decide."""

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import PasswordField, RadioField, SelectField, TextAreaField
from wtforms.fields.choices import SelectChoice
from wtforms.validators import InputRequired

from models.record.values import DECISIONS
from models.services.turnover.agreements import ANSWERS

KINDS = [SelectChoice("acceptance"), SelectChoice("maintenance")]


class OpenRoundForm(FlaskForm):
    """A lineup, the kind of round and its programme."""

    lineup = SelectField("Lineup", validators=[InputRequired("Choose a lineup.")])
    kind = RadioField(
        "Kind of round",
        choices=KINDS,
        validators=[InputRequired("Choose acceptance or maintenance.")],
    )
    programme = SelectField(
        "Programme", validators=[InputRequired("Choose a programme.")]
    )

    has_lineups = False  # whether there is one to plan a round on

    def offer(
        self, lineups: Iterable[tuple[UUID, str]], programmes: Iterable[str]
    ) -> None:
        """Set what may be chosen; of one lineup alone it is that one."""
        known = [SelectChoice(str(key), name) for key, name in lineups]
        blank = [SelectChoice("", "Choose a lineup")] if len(known) != 1 else []
        self.lineup.choices = [*blank, *known]
        self.has_lineups = bool(known)
        self.programme.choices = [
            SelectChoice("", "Choose a programme"),
            *map(SelectChoice, programmes),
        ]


class ReasonForm(FlaskForm):
    """A reason, in words."""

    reason = TextAreaField("Reason")


class DisposeForm(FlaskForm):
    """A decision on a reading that is not within, with its reason."""

    decision = RadioField(
        "Decision",
        choices=[SelectChoice(*decision) for decision in DECISIONS.items()],
        validators=[InputRequired("Choose a decision.")],
    )
    reason = TextAreaField("Reason")
    password = PasswordField("Your password")


class AgreementForm(FlaskForm):
    """A second person's answer to a decision."""

    answer = RadioField(
        "Answer",
        choices=[SelectChoice(*one) for one in ANSWERS.items()],
        validators=[InputRequired("Agree, or refuse.")],
    )
    reason = TextAreaField("Reason")
    password = PasswordField(
        "Your password",
        validators=[InputRequired("Write your password: you answer by your name.")],
    )


class CloseForm(FlaskForm):
    """How a deficiency was put right, and the reading that shows it."""

    reading_id = RadioField("Retest that shows it", validate_choice=False)
    text = TextAreaField("How it was put right")

    def offer(self, readings: Iterable[tuple[str, str]]) -> None:
        """Set the readings that may be chosen."""
        self.reading_id.choices = [SelectChoice(*one) for one in readings]

    def chosen(self) -> UUID | None:
        """Return the reading chosen, or None."""
        known: set[Any] = {one.value for one in self.reading_id.choices or ()}
        value = self.reading_id.data
        return UUID(value) if value in known else None


class SignForm(FlaskForm):
    """The password that opens the signer's key."""

    password = PasswordField(
        "Your password",
        validators=[InputRequired("Write your password: it opens your key.")],
    )
