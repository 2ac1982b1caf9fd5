"""The form on which a table is checked, row by row, against a licensed copy."""

from collections.abc import Iterator, Mapping
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, HiddenField, RadioField, StringField
from wtforms.fields.choices import SelectChoice

from models.services.criteria.check_table import CONFIRMED, CORRECTED, RowAct
from models.services.criteria.checked_tables import RowState, TableState
from models.services.criteria.table_checks import WITHDRAWN

LEAVE = ""


class CheckForm(FlaskForm):
    """Which copy was used; what it says of each row is added by `check_form`."""

    edition = StringField("Edition of your copy")
    clause = StringField("Page or clause")
    all_rest = BooleanField("Every row that I leave below is as in my copy")


def check_form(state: TableState, given: Mapping[str, str] | None = None) -> CheckForm:
    """Return the form of one table; *given* are values in the place of those sent."""
    fields: dict[str, Any] = {}
    for row in state.rows:
        fields[f"digest_{row.number}"] = HiddenField(default=row.digest)
        fields[f"before_{row.number}"] = HiddenField()  # the page fills it in
        fields[f"act_{row.number}"] = _choices(row)
        for column, shown in row.figures:
            fields[f"figure_{row.number}_{column.name}"] = StringField(
                f"{column.label} in your copy",
                description=f"here {shown}",
                render_kw={"inputmode": "decimal", "autocomplete": "off"},
            )
        fields[f"reason_{row.number}"] = StringField("Why")
    made: type[CheckForm] = type("TableCheckForm", (CheckForm,), fields)
    return made() if given is None else made(formdata=None, data=given)


def _choices(row: RowState) -> RadioField:
    choices = [
        SelectChoice(LEAVE, "Leave"),
        SelectChoice(CONFIRMED, "As in my copy"),
    ]
    if row.figures:
        choices.append(SelectChoice(CORRECTED, "Another figure"))
    if row.check or row.stale:
        choices.append(SelectChoice(WITHDRAWN, "Withdraw the check"))
    return RadioField(row.name, choices=choices, default=LEAVE, validate_choice=False)


def acts_of(form: CheckForm, state: TableState) -> list[RowAct]:
    """Return what is said of each row that is not left.

    The tick for the rest confirms what is left and has no check that holds.
    """
    return list(_acts(form, state))


def _acts(form: CheckForm, state: TableState) -> Iterator[RowAct]:
    for row in state.rows:
        said = form[f"act_{row.number}"].data or LEAVE
        figures = {
            column.name: form[f"figure_{row.number}_{column.name}"].data or ""
            for column, _ in row.figures
        }
        if said == LEAVE and form.all_rest.data and row.check is None:
            said = CONFIRMED
        if said != LEAVE or any(typed.strip() for typed in figures.values()):
            yield RowAct(
                number=row.number,
                digest=form[f"digest_{row.number}"].data or "",
                before=form[f"before_{row.number}"].data or "",
                act=said,
                figures=figures,
                reason=form[f"reason_{row.number}"].data or "",
            )


def sent_again(form: CheckForm, acts: list[RowAct]) -> list[tuple[str, str]]:
    """Return the fields that say the same as *form*, with the tick spelled out."""
    found = [("edition", form.edition.data or ""), ("clause", form.clause.data or "")]
    for act in acts:
        found += [(f"digest_{act.number}", act.digest), (f"act_{act.number}", act.act)]
        found += [(f"figure_{act.number}_{n}", t) for n, t in act.figures.items() if t]
        if act.before:
            found.append((f"before_{act.number}", act.before))
        if act.reason:
            found.append((f"reason_{act.number}", act.reason))
    return found
