"""Forms of the plan: they check shape, services decide."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import SelectField, StringField, TextAreaField
from wtforms.fields.choices import SelectChoice

NOBODY = UUID(int=0)


class PointsForm(FlaskForm):
    """The points of a card, a line each, and why they are others."""

    points = TextAreaField("Points, one a line")
    reason = TextAreaField("Reason")

    @property
    def labels(self) -> list[str]:
        """The lines that are written."""
        return (self.points.data or "").splitlines()


class AddCardForm(PointsForm):
    """A card that no programme chose."""

    apparatus = SelectField("Apparatus", validate_choice=False)
    procedure = SelectField("Procedure", validate_choice=False)
    detail = StringField("What is tested, and how")

    @property
    def apparatus_id(self) -> UUID:
        """The apparatus that is chosen; one that there is not where none is."""
        try:
            return UUID(self.apparatus.data or "")
        except ValueError:
            return NOBODY

    def offer(
        self, found: Iterable[tuple[UUID, str, Sequence[tuple[str, str]]]]
    ) -> None:
        """Set what may be chosen: each procedure that serves some apparatus."""
        found = list(found)
        served = {name: title for _, _, own in found for name, title in own}
        self.apparatus.choices = [
            SelectChoice("", "Choose an apparatus"),
            *(SelectChoice(str(key), label) for key, label, _ in found),
        ]
        self.procedure.choices = [
            SelectChoice("", "Choose a procedure"),
            *(
                SelectChoice(name, title)
                for name, title in sorted(served.items(), key=lambda one: one[1])
            ),
        ]
