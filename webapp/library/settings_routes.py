"""The page on which two lists of relay settings are compared; nothing is kept."""

from flask import render_template, request
from flask.typing import ResponseReturnValue
from flask_wtf import FlaskForm
from flask_wtf.file import FileField
from wtforms import TextAreaField

from models.errors import InputError
from models.record.settings_compared import Compared, compare_settings
from webapp.form_faults import place_faults
from webapp.library.routes import REFUSED, bp


class SettingsForm(FlaskForm):
    """What was issued and what was read back, each pasted or as a file."""

    issued = TextAreaField("As issued")
    issued_file = FileField("or its file")
    read = TextAreaField("As read from the relay")
    read_file = FileField("or its file")


@bp.route("/settings", methods=["GET", "POST"])
def settings() -> ResponseReturnValue:
    """Show the form, and on what is sent how the two lists differ."""
    form = SettingsForm()
    compared: Compared | None = None
    faults: list[str] = []
    sent = request.method == "POST"
    if sent and form.validate():
        try:
            compared = compare_settings(_content("issued"), _content("read"))
        except InputError as error:
            faults = place_faults(form, error)
    page = render_template(
        "library/settings.html", form=form, compared=compared, faults=faults
    )
    return page, REFUSED if sent and compared is None else 200


def _content(name: str) -> bytes:
    """Return the file where one was chosen, else what was pasted."""
    file = request.files.get(f"{name}_file")
    content = file.read() if file else b""
    return content or request.form.get(name, "").strip().encode()
