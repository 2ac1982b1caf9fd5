"""Import the register from a table: template, preview, all or nothing."""

import base64
import binascii
from io import BytesIO

from flask import flash, redirect, render_template, request, send_file, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.record.instrument_words import accuracy_words
from models.services.setup import instrument_table as services
from models.services.setup.instrument_table import TableRow
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.instruments.forms import TableForm
from webapp.instruments.routes import bp, require_set_up, titles

NOT_WHOLE = "The table was not sent whole: choose the file again."
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@bp.get("/import")
def importing() -> ResponseReturnValue:
    """Ask for a table."""
    require_set_up()
    return _page()


@bp.get("/import/template.csv")
def template_file() -> ResponseReturnValue:
    """Send the table to fill in as CSV."""
    return send_file(
        BytesIO(services.template_csv()),
        mimetype="text/csv",
        as_attachment=True,
        download_name="instruments.csv",
    )


@bp.get("/import/template.xlsx")
def template_workbook() -> ResponseReturnValue:
    """Send the table to fill in as a workbook."""
    return send_file(
        BytesIO(services.template_workbook()),
        mimetype=XLSX,
        as_attachment=True,
        download_name="instruments.xlsx",
    )


@bp.post("/import")
def preview() -> ResponseReturnValue:
    """Show what a table says; nothing is stored."""
    sent = request.files.get("table")
    data = sent.read() if sent else b""
    try:
        rows = services.read_instruments(
            db(), person_id=current_user.id, data=data, today=now().date()
        )
    except InputError as error:
        return _page(faults=_said(error)), 422
    return _page(rows=rows, kept=base64.b64encode(data).decode())


@bp.post("/import/store")
def store() -> ResponseReturnValue:
    """Store the table that was shown: all of it, or nothing."""
    try:
        data = base64.b64decode(request.form.get("kept", ""), validate=True)
        count = services.import_instruments(
            db(), person_id=current_user.id, data=data, now=now(), new_id=new_id
        )
    except binascii.Error:
        return _page(
            faults=["The table was not sent whole: choose the file again."]
        ), 422
    except InputError as error:
        return _page(faults=_said(error)), 422
    commit()
    flash(f"{count} {'instrument is' if count == 1 else 'instruments are'} added.")
    return redirect(url_for(".register"), code=303)


def _said(error: InputError) -> list[str]:
    return [f"{one.field}: {one.message}" for one in error.faults]


def _page(
    *,
    rows: list[TableRow] | None = None,
    kept: str = "",
    faults: list[str] | None = None,
) -> str:
    return render_template(
        "instruments/import.html",
        form=TableForm(formdata=None),
        rows=rows,
        kept=kept,
        faults=faults,
        columns=services.COLUMNS,
        titles=titles(),
        accuracy_words=accuracy_words,
    )
