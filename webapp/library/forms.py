"""Forms of the library that are sent by GET: they store nothing, so nothing is secret.

They carry text; what it means is read where the verdict is worked out.
"""

import json
from collections.abc import Iterable, Mapping

from wtforms import Form, SelectField, StringField
from wtforms.fields.choices import SelectChoice

from models.fields import Kind, field_for_tablet
from models.judging.quantities import said_unit
from models.procedures import Procedure
from models.services.setup.nameplate import GEAR_NAMES
from webapp.library.form_fields import FormField
from webapp.library.gas import BASES, KPA_PER, REFERENCE_C, SEA_LEVEL_KPA


class SearchForm(Form):
    """Words to look for."""

    q = StringField("Words in titles, rows and notes")


class RequiredForm(Form):
    """Which apparatus of which gear."""

    gear = SelectField(
        "Gear",
        choices=[SelectChoice(*gear) for gear in GEAR_NAMES.items()],
        validate_choice=False,
    )
    rated_kv = StringField("Rated maximum voltage, kV")
    apparatus = SelectField("Apparatus", validate_choice=False)

    def offer(self, kinds: Iterable[tuple[str, str]]) -> None:
        """Set which apparatus may be chosen."""
        self.apparatus.choices = [SelectChoice(*kind) for kind in kinds]


class GasForm(Form):
    """A pressure as read, and the temperatures between which it is carried."""

    pressure = StringField("Pressure read")
    unit = SelectField(
        "Unit",
        choices=[SelectChoice(unit, unit) for unit in KPA_PER],
        validate_choice=False,
    )
    basis = SelectField(
        "Measured as",
        choices=[SelectChoice(*basis) for basis in BASES.items()],
        validate_choice=False,
    )
    air_kpa = StringField("Air pressure of the site, kPa", default=SEA_LEVEL_KPA)
    temperature_c = StringField("Temperature of the gas, °C")
    to_c = StringField("Carried to, °C", default=REFERENCE_C)


class CalculatorForm(Form):
    """Value and unit; the rest depends on the procedure, see `calculator_form`."""

    value = StringField("Value")
    unit = SelectField("Unit", validate_choice=False)
    outcome = SelectField("Outcome", validate_choice=False)


def calculator_form(
    procedure: Procedure, entries: Iterable[FormField], typed: Mapping[str, str]
) -> CalculatorForm:
    """Return the form of *procedure* with a field for each entry, as it was typed."""
    fields = {entry.name: _field(entry) for entry in entries}
    made = type("ProcedureForm", (CalculatorForm,), fields)
    form: CalculatorForm = made(data={**_empty(procedure, fields), **typed})
    form.unit.choices = [SelectChoice(u, said_unit(u)) for u in procedure.units]
    blank = "a number was read" if procedure.units else "choose"
    form.outcome.choices = [
        SelectChoice("", blank),
        *(SelectChoice(word, word.replace("_", " ")) for word in procedure.outcomes),
    ]
    return form


def _empty(procedure: Procedure, fields: Iterable[str]) -> dict[str, str]:
    names = ("value", "outcome", *fields)
    return {**dict.fromkeys(names, ""), "unit": procedure.default_unit}


def _field(entry: FormField) -> StringField | SelectField:
    label = f"{entry.label}, {entry.unit}" if entry.unit else entry.label
    if entry.row:
        return StringField(label, render_kw={"data-row": True, "autocomplete": "off"})
    known = entry.field
    kind = known.kind if known else None
    about = {"data-field": json.dumps(field_for_tablet(known))} if known else {}
    if not entry.choices:
        mode = "text" if kind is Kind.TEXT else "decimal"
        typed = {"inputmode": mode, "autocomplete": "off"}
        return StringField(label, render_kw=typed | about)
    choices = [
        SelectChoice("", "not given"),
        *(SelectChoice(*c) for c in entry.choices),
    ]
    own = about if kind is Kind.YES_NO else {}  # yes is true: the field says so
    return SelectField(label, choices=choices, validate_choice=False, render_kw=own)
