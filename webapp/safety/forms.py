"""The form that releases a stop: it checks shape, the service decides."""

from flask_wtf import FlaskForm
from wtforms import RadioField, TextAreaField
from wtforms.fields.choices import SelectChoice

AGREES = (
    SelectChoice("yes", "The one who pressed agrees that the work goes on"),
    SelectChoice("no", "They do not agree, or cannot be asked: the lead releases"),
)


class ReleaseForm(FlaskForm):
    """Why the work may go on, what was put right, and who agrees."""

    reason = TextAreaField("Reason of the release")
    put_right = TextAreaField("What was put right")
    agrees = RadioField("The one who pressed", choices=list(AGREES))

    def agreement(self) -> bool | None:
        """Return whether the one who pressed agrees; None where it is not said."""
        return {"yes": True, "no": False}.get(self.agrees.data or "")
