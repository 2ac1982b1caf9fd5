"""Forms of the owner's pages: they check shape, services decide."""

from collections.abc import Iterable

from flask_wtf import FlaskForm
from wtforms import Form, PasswordField, SelectField
from wtforms.fields.choices import SelectChoice
from wtforms.validators import InputRequired


class FilterForm(Form):
    """Which part of the baseline to show; nothing in it is secret."""

    cell = SelectField("Cell", validate_choice=False)
    procedure = SelectField("Procedure", validate_choice=False)

    def offer(
        self, cells: Iterable[tuple[str, str]], procedures: Iterable[tuple[str, str]]
    ) -> None:
        """Set what may be chosen; all of it by default."""
        self.cell.choices = [
            SelectChoice("", "all cells"),
            *(SelectChoice(*cell) for cell in cells),
        ]
        self.procedure.choices = [
            SelectChoice("", "all procedures"),
            *(SelectChoice(*procedure) for procedure in procedures),
        ]


class AcceptForm(FlaskForm):
    """The password that opens the owner's key."""

    password = PasswordField(
        "Your password",
        validators=[InputRequired("Write your password: it opens your key.")],
    )
