"""The form of a move: it checks shape, the service decides."""

from collections.abc import Iterable
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import BooleanField, DateField, SelectField, TextAreaField
from wtforms.fields.choices import SelectChoice
from wtforms.validators import Optional

SHELF = "shelf"


class MoveForm(FlaskForm):
    """Where an apparatus goes, when and why."""

    cell = SelectField("It goes to", validate_choice=False)
    swap = BooleanField("What stands there goes the other way")
    day = DateField("On which day", validators=[Optional()])
    reason = TextAreaField("Why")

    def offer(self, cells: Iterable[tuple[UUID, str]], *, on_shelf: bool) -> None:
        """Set where it can go."""
        first = [SelectChoice("", "Choose where it goes")]
        shelf = [] if on_shelf else [SelectChoice(SHELF, "the spare shelf")]
        self.cell.choices = [
            *first,
            *shelf,
            *(SelectChoice(str(key), said) for key, said in cells),
        ]

    @property
    def cell_id(self) -> UUID | None:
        """The cell that is chosen; None: the spare shelf."""
        try:
            return UUID(self.cell.data or "")
        except ValueError:
            return None
