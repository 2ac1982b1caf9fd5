"""Forms of the register: they check shape, services decide."""

from datetime import date
from typing import Any

from flask_wtf import FlaskForm
from flask_wtf.file import FileField
from wtforms import (
    DateField,
    FieldList,
    Form,
    FormField,
    SelectField,
    SelectMultipleField,
    StringField,
)
from wtforms.fields.choices import SelectChoice
from wtforms.widgets import CheckboxInput, ListWidget

from models.errors import Fault, InputError
from models.judging import parse_number
from models.judging.quantities import unit_name
from models.procedures import PROCEDURES
from models.record.instrument import APPLIES, PARTS, READS, Range
from models.services.setup.calibrations import CalibrationEntry
from models.services.setup.instruments import InstrumentEntry

NUMBERS = ("low", "high", *PARTS)
SPARE = 2  # rows that are offered blank


class RangeForm(Form):
    """A range of an instrument, numbers as typed."""

    does = SelectField(
        "It",
        choices=[SelectChoice(READS, "reads"), SelectChoice(APPLIES, "applies")],
        validate_choice=False,
    )
    supply = SelectField(
        "Supply",
        choices=[
            SelectChoice(*one) for one in (("", "not said"), ("ac", "ac"), ("dc", "dc"))
        ],
        validate_choice=False,
    )
    low = StringField("From")
    high = StringField("To")
    unit = StringField("Unit")
    pct_reading = StringField("% of reading")
    pct_range = StringField("% of range")
    digits = StringField("Digits")
    resolution = StringField("of resolution")
    fixed = StringField("Fixed part")

    @property
    def blank(self) -> bool:
        """Whether nothing is typed in this row."""
        names = (*NUMBERS, "unit", "supply")
        return not any((self[name].data or "").strip() for name in names)


class InstrumentForm(FlaskForm):
    """What is entered of an instrument."""

    tag = StringField("Tag")
    name = StringField("What it is")
    maker = StringField("Maker")
    type = StringField("Type")
    serial = StringField("Serial number")
    procedures = SelectMultipleField(
        "Used for",
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
        validate_choice=False,
    )
    ranges = FieldList(FormField(RangeForm), "Ranges", max_entries=24)
    seen = StringField()

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Offer every procedure."""
        super().__init__(*args, **kwargs)
        self.procedures.choices = [
            SelectChoice(n, p.title) for n, p in PROCEDURES.items()
        ]

    def spare(self) -> None:
        """Add blank rows at the end, as far as there is room."""
        for _ in range(SPARE):
            if len(self.ranges) < self.ranges.max_entries:
                self.ranges.append_entry()

    def entry(self) -> InstrumentEntry:
        """Return what is entered; InputError for a number that is none.

        The faults of a range are at `ranges.<its place among those filled in>.<field>`.
        """
        faults: list[Fault] = []
        filled = [row.form for row in self.ranges if not row.form.blank]
        ranges = [_range(form, place, faults) for place, form in enumerate(filled)]
        if faults:
            raise InputError(*faults)
        return InstrumentEntry(
            tag=self.tag.data or "",
            name=self.name.data or "",
            maker=self.maker.data or "",
            type=self.type.data or "",
            serial=self.serial.data or "",
            procedures=[n for n in self.procedures.data or () if n in PROCEDURES],
            ranges=ranges,
        )

    def place(self, error: InputError) -> list[str]:
        """Put each fault beside its field; return those that name none."""
        filled = [row for row in self.ranges if not row.form.blank]
        elsewhere = []
        for fault in error.faults:
            field = self._field(fault.field, filled)
            if field is None:
                elsewhere.append(fault.message)
            else:
                field.errors = [*field.errors, fault.message]
        return elsewhere

    def _field(self, name: str, filled: list[Any]) -> Any:
        part, _, rest = name.partition(".")
        place, _, field = rest.partition(".")
        if part == "ranges" and place.isdigit() and int(place) < len(filled):
            return filled[int(place)].form._fields.get(field)
        return self._fields.get(part) if not rest and part != "ranges" else None


def _range(form: RangeForm, place: int, faults: list[Fault]) -> Range:
    given: dict[str, Any] = {}
    for name in NUMBERS:
        typed = (form[name].data or "").strip()
        try:
            given[name] = parse_number(typed) if typed else None
        except InputError as error:
            field = f"ranges.{place}.{name}"
            faults += [Fault(field=field, message=f.message) for f in error.faults]
    symbol = (form.unit.data or "").strip()
    return Range(
        does=form.does.data or READS,
        supply=form.supply.data or None,
        unit=(unit_name(symbol) or symbol) or None,
        **given,
    )


class CalibrationForm(FlaskForm):
    """A calibration, as its certificate says it."""

    calibrated_on = DateField("Calibrated on", validators=())
    due_on = DateField("Falls due on", validators=())
    certificate_no = StringField("Certificate number")
    laboratory = StringField("Laboratory")

    def entry(self) -> CalibrationEntry:
        """Return what is entered; a day that is none counts as blank."""
        days: dict[str, date | None] = {
            name: self[name].data for name in ("calibrated_on", "due_on")
        }
        return CalibrationEntry(
            **days,
            certificate_no=self.certificate_no.data or "",
            laboratory=self.laboratory.data or "",
        )


class TableForm(FlaskForm):
    """A table of instruments: a file."""

    table = FileField("Table (CSV or XLSX)")
