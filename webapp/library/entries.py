"""What the calculator asks for, procedure by procedure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from models.fields import Field, field, narrowed
from models.judging import PROCEDURES, Procedure
from models.judging.quantities import said_unit
from models.judging.series import Series


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
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


def _entry(about: Field) -> Entry:
    return Entry(
        name=about.name,
        label=about.label,
        unit=about.said_unit,
        choices=[(one, about.choice_words(one)) for one in about.choices],
        hint=about.hint,
        field=about,
    )


# What a rule of each procedure is compiled from.
OF_PROCEDURE: Mapping[str, Sequence[str]] = {
    "insulation_resistance": ("rated_kv", "insulation", "limit"),
    "contact_resistance": ("conductor", "limit"),
    "vacuum_integrity": (
        "rated_kv",
        "rated_withstand_kv",
        "level_ac_kv",
        "level_dc_kv",
        "limit",
    ),
    "relay_timing": (
        "curve",
        "pickup_a",
        "time_dial",
        "tolerance_pct",
        "tolerance_s",
        "bands",
        "ceiling_multiple",
        "minimum_time_s",
        "pickup_error_pct",
        "current_error_pct",
        "timed_against",
    ),
    "dielectric_withstand": (
        "gear",
        "rated_kv",
        "rated_withstand_kv",
        "level_ac_kv",
        "level_dc_kv",
    ),
}
EXAMPLES: Mapping[str, str] = {
    "timed": "30:2.1 60:3.0",
    "steps": "1:5.2 2.5:5.0",
    "leakage": "10:3.1 20:6.0",
}
COMPARED = ("contact_resistance",)  # whose poles are compared with each other
OTHERS = (
    Entry(name="other_1", label="Another pole", hint="same unit and conditions"),
    Entry(name="other_2", label="A third pole", hint="same unit and conditions"),
)
ACCURACY = tuple(_entry(field(name)) for name in ("accuracy_pct", "accuracy_fixed"))


def subject_entries(
    procedure: str, curves: Sequence[tuple[str, str]]
) -> Sequence[Entry]:
    """Return what the rule is compiled from; *curves* are those of the table."""
    names = OF_PROCEDURE[procedure]
    units = PROCEDURES[procedure].units
    found = []
    for name in names:
        entry = _entry(field(name))
        if name == "curve":
            entry = replace(entry, choices=tuple(curves))
        if entry.field and entry.field.unit_of and len(units) == 1:
            entry = replace(entry, unit=said_unit(units[0]), hint="")
        found.append(entry)
    return found


def condition_entries(procedure: Procedure) -> Sequence[Entry]:
    """Return the conditions that a card of the procedure asks for."""
    return [
        replace(
            _entry(narrowed(ask["name"], tuple(ask["choices"]))), label=ask["label"]
        )
        for ask in procedure.asks
    ]


def row_entries(procedure: Procedure) -> Sequence[Entry]:
    """Return the rows of readings that a point of the procedure may carry."""
    return [
        Entry(
            name=series.name,
            label=series.title,
            row=True,
            hint=f"{EXAMPLES[series.name]}: {_form(series)}",
        )
        for series in procedure.series
    ]


def _form(series: Series) -> str:
    """Say what stands before the colons of a row, and what behind them."""
    unit = series.unit or "the unit of the value"
    only = f"; {series.only[1]} only" if series.only else ""
    return f"{series.step_unit}, a colon, what was shown in {unit}{only}"


def reading_entries(procedure: Procedure) -> Sequence[Entry]:
    """Return what belongs to the reading itself, besides value, unit and outcome."""
    if not procedure.units:
        return ()
    return (*(OTHERS if procedure.name in COMPARED else ()), *ACCURACY)
