"""The forms: the file, and which column is what."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any, ClassVar

from flask_wtf import FlaskForm
from flask_wtf.file import FileField
from wtforms import Form, SelectField, StringField
from wtforms.fields.choices import SelectChoice

from models.errors import Fault, InputError
from models.judging import parse_number
from models.record.readings_table import Columns
from models.record.readings_table.columns import TIMES
from models.services.readings_file.file_card import FileCard
from models.services.readings_file.file_round import FileRound

CONDITION = "condition-"  # before the name of a condition in the form
GIVEN = "given-"  # before its name, where it is the same in all rows
ROLES = ("point", "value", "unit", "taken", "note")
NO_COLUMN = ""


class FileForm(FlaskForm):
    """The table of a test set."""

    file = FileField("The file")


class ColumnsForm(Form):
    """What each column is; what stands in the address is chosen."""

    sheet = SelectField("Sheet", validate_choice=False)
    header = StringField("Row of the headings")
    left_out = StringField("Rows to leave out")
    point = SelectField("Point", validate_choice=False)
    value = SelectField("Value", validate_choice=False)
    unit = SelectField("Unit, a column", validate_choice=False)
    unit_given = StringField("or the same unit in all rows")
    taken = SelectField("Time taken", validate_choice=False)
    time_format = SelectField(
        "Times are written as", choices=[SelectChoice(*one) for one in TIMES.items()]
    )
    note = SelectField("Note", validate_choice=False)
    decimal = SelectField(
        "Decimal sign",
        choices=[
            SelectChoice(".", "point: 1,234.5"),
            SelectChoice(",", "comma: 1.234,5"),
        ],
    )
    bounds = SelectField(
        "Values as >2000",
        choices=[
            SelectChoice("", "a fault"),
            SelectChoice("yes", "read as over range"),
        ],
    )
    over_word = StringField("Word for over range, such as OL")
    over_from = StringField("It stands for more than")
    reason = StringField("Why points are measured again")

    roles: ClassVar[Sequence[str]] = ROLES  # what a column may be

    def offer(self, sheets: Sequence[str], heads: Sequence[str]) -> None:
        """Fill the lists with the columns that there are."""
        self.sheet.choices = [SelectChoice(one, one or "the file") for one in sheets]
        columns = [
            SelectChoice(NO_COLUMN, "none"),
            *(SelectChoice(str(n), head) for n, head in enumerate(heads)),
        ]
        for role in self.roles:
            self[role].choices = columns

    def columns(self, conditions: Mapping[str, int]) -> Columns:
        """Return what is chosen; InputError at the field that is to be mended."""
        header = (self.header.data or "0").strip()
        if not header.isdecimal():
            raise InputError(Fault(field="header", message="Write the row's number."))
        over_from = (self.over_from.data or "").strip()
        if (self.over_word.data or "").strip():
            try:
                parse_number(over_from)
            except InputError as error:
                fault = error.faults[0].message
                raise InputError(Fault(field="over_from", message=fault)) from error
        chosen: dict[str, Any] = {
            role: int(self[role].data) if (self[role].data or "").isdecimal() else None
            for role in self.roles
        }
        return Columns(
            sheet=self.sheet.data or "",
            test=self.named_test(),
            header=int(header),
            **chosen,
            unit_given=(self.unit_given.data or "").strip(),
            time_format=self.time_format.data or next(iter(TIMES)),
            decimal=self.decimal.data or ".",
            bounds=self.bounds.data == "yes",
            over_word=(self.over_word.data or "").strip(),
            over_from=over_from,
            conditions=conditions,
        )

    def named_test(self) -> str:
        """Return the procedure of all rows; "" where the card says it."""
        return ""


class RoundColumnsForm(ColumnsForm):
    """What each column of a table for several cards is."""

    roles = ("cell", "apparatus", *ROLES)
    test = SelectField("Test", validate_choice=False)
    cell = SelectField("Cell", validate_choice=False)
    apparatus = SelectField("Apparatus", validate_choice=False)

    def offer_tests(self, tests: Mapping[str, str]) -> None:
        """Fill the list of procedures: their names and titles."""
        self.test.choices = [
            SelectChoice("", "choose"),
            *(SelectChoice(name, title) for name, title in tests.items()),
        ]

    def named_test(self) -> str:
        """Return the procedure of all rows."""
        return self.test.data or ""


def as_chosen(columns: Columns) -> dict[str, str]:
    """Return columns as the form's fields hold them."""
    held = asdict(columns)
    conditions = held.pop("conditions")
    fields = {name: "" if value is None else str(value) for name, value in held.items()}
    fields["bounds"] = "yes" if columns.bounds else ""
    return fields | {CONDITION + name: str(at) for name, at in conditions.items()}


LIKELY = {
    "cell": ("cell", "cubicle", "panel", "bay", "location"),
    "apparatus": ("apparatus", "device", "equipment", "asset", "tag"),
    "point": ("point", "label", "position", "phase", "test"),
    "value": ("value", "result", "reading", "resistance", "measured"),
    "unit": ("unit",),
    "taken": ("time", "date"),
    "note": ("note", "remark", "comment"),
}


def likely(of: FileCard | FileRound, heads: Sequence[str]) -> dict[str, str]:
    """Return what the headings make likely, before anything was chosen."""
    found = {"header": "1", "unit_given": ""}
    words = dict(LIKELY)
    words |= {CONDITION + a["name"]: (a["label"].casefold(),) for a in of.asks}
    for role, names in words.items():
        for at, head in enumerate(heads):
            said = head.partition(": ")[2].casefold()
            if said and any(said.startswith(name) for name in names):
                found.setdefault(role, str(at))
    if "unit" not in found and of.unit:
        found["unit_given"] = of.unit
    return found
