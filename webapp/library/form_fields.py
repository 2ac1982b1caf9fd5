"""What the calculator asks for, procedure by procedure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from models.fields import Field, Kind, field, narrowed
from models.judging.quantities import said_unit
from models.judging.series import Series
from models.procedures import PROCEDURES, Procedure


@dataclass(frozen=True, slots=True, kw_only=True)
class FormField:
    """One field of the form: a choice where it has choices, else a number or a row.

    *field* says what it may hold; a row of readings and another reading have none.
    *choices* are (value, words).
    """

    name: str
    label: str
    unit: str = ""
    choices: Sequence[tuple[str, str]] = ()
    hint: str = ""
    row: bool = False
    field: Field | None = None


def _entry(about: Field) -> FormField:
    return FormField(
        name=about.name,
        label=about.label,
        unit=about.said_unit,
        choices=_choices(about),
        hint=about.hint,
        field=about,
    )


def _choices(about: Field) -> Sequence[tuple[str, str]]:
    if about.kind is Kind.YES_NO:
        return [("yes", "yes"), ("no", "no")]
    return [(one, about.choice_words(one)) for one in about.choices]


EXAMPLES: Mapping[str, str] = {
    "timed": "30:2.1 60:3.0",
    "steps": "1:5.2 2.5:5.0",
    "held_leakage": "1:9.0 15:6.5",
    "leakage": "10:3.1 20:6.0",
    "excitation": "100:0.0232 200:0.0378",
    "fall": "20:13.9 30:15.1",
    "gas_log": "0:151.2 24:151.1",
    "tan_delta": "0.5:1.1 1:1.2",
    "coil_record": "0:0 5:1.9",
    "travel": "0:0 10:1.4",
}
OTHERS = (
    FormField(name="other_1", label="Another pole", hint="same unit and conditions"),
    FormField(name="other_2", label="A third pole", hint="same unit and conditions"),
)
ACCURACY = tuple(_entry(field(name)) for name in ("accuracy_pct", "accuracy_fixed"))


def subject_fields(
    procedure: str, curves: Sequence[tuple[str, str]]
) -> Sequence[FormField]:
    """Return what the rule is compiled from; *curves* are those of the table."""
    units = PROCEDURES[procedure].units
    found = []
    for name in _names(PROCEDURES[procedure]):
        entry = _entry(field(name))
        if name == "curve":
            entry = replace(entry, choices=tuple(curves))
        if entry.field and entry.field.unit_of and len(units) == 1:
            entry = replace(entry, unit=said_unit(units[0]), hint="")
        found.append(entry)
    return found


def _names(procedure: Procedure) -> Sequence[str]:
    """Return the fields: a limit in the unit of the value in the place of the plate's.

    Where a condition says what a limit is a limit of, each is asked on its own.
    """
    if procedure.chosen_by:
        return procedure.rests_on
    said = [plate for plates in procedure.columns.values() for plate in plates]
    own = [name for name in procedure.rests_on if name not in said]
    return (*own, *procedure.columns)


def condition_fields(procedure: Procedure) -> Sequence[FormField]:
    """Return the conditions that a card of the procedure asks for."""
    return [
        replace(
            _entry(narrowed(ask["name"], tuple(ask["choices"]))), label=ask["label"]
        )
        for ask in procedure.asks
    ]


def row_fields(procedure: Procedure) -> Sequence[FormField]:
    """Return the rows of readings that a point of the procedure may carry."""
    return [
        FormField(
            name=series.name,
            label=series.title,
            row=True,
            hint=f"{EXAMPLES[series.name]}: {_form(series)}",
        )
        for series in procedure.series
    ]


def _form(series: Series) -> str:
    """Say what stands before the colons of a row, and what behind them."""
    unit = said_unit(series.unit) or "the unit of the value"
    only = f"; {series.only[0][1]} only" if series.only else ""
    return f"{series.step_unit}, a colon, what was shown in {unit}{only}"


def reading_fields(procedure: Procedure) -> Sequence[FormField]:
    """Return what belongs to the reading itself, besides value, unit and outcome."""
    if not procedure.units:
        return ()
    return (*(OTHERS if procedure.compared else ()), *ACCURACY)
