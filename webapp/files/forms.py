"""Forms of the files: they check shape, the service decides."""

from flask_wtf import FlaskForm
from flask_wtf.file import FileField
from wtforms import StringField, TextAreaField


class AttachForm(FlaskForm):
    """A file and what is to be said of it."""

    file = FileField("File")
    note = StringField("Note", default="")


class WithdrawForm(FlaskForm):
    """Why a file does not count."""

    reason = TextAreaField("Reason")
