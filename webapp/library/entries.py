"""What the calculator asks for, procedure by procedure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from models.judging.choices import CONDUCTORS, GEARS, INSULATIONS
from models.judging.quantities import said_unit
from models.judging.series import Series
from models.judging.timing_options import AGAINST, BANDS
from models.procedures import PROCEDURES, Procedure
from models.services.setup.nameplate import GEAR_NAMES, said

ANY, FROM_ZERO, ABOVE_ZERO = "any", "zero", "above"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One field: a choice where it has choices, else a number or a row of readings.

    *least* says what the number may be; *choices* are (value, words).
    """

    name: str
    label: str
    unit: str = ""
    least: str = ABOVE_ZERO
    choices: Sequence[tuple[str, str]] = ()
    hint: str = ""
    row: bool = False


def _words(values: Sequence[str]) -> tuple[tuple[str, str], ...]:
    return tuple((value, value.replace("_", " ")) for value in values)


SUBJECT: Mapping[str, Entry] = {
    entry.name: entry
    for entry in (
        Entry(
            name="gear",
            label="Gear",
            choices=tuple((gear, GEAR_NAMES[gear]) for gear in GEARS),
        ),
        Entry(name="rated_kv", label="Rated maximum voltage", unit="kV"),
        Entry(
            name="rated_withstand_kv",
            label="Rated power-frequency withstand",
            unit="kV",
            hint="from the nameplate",
        ),
        Entry(
            name="insulation",
            label="Insulation",
            choices=_words(INSULATIONS),
            hint="solid where nothing is chosen",
        ),
        Entry(
            name="conductor",
            label="Conductor",
            choices=_words(CONDUCTORS),
            hint="copper where nothing is chosen",
        ),
        Entry(name="limit", label="Maker’s limit", least=FROM_ZERO),
        Entry(name="level_ac_kv", label="Level given for this gear, ac", unit="kV"),
        Entry(name="level_dc_kv", label="Level given for this gear, dc", unit="kV"),
        Entry(name="vacuum_ac_kv", label="Maker’s level for the gap, ac", unit="kV"),
        Entry(name="vacuum_dc_kv", label="Maker’s level for the gap, dc", unit="kV"),
        Entry(
            name="vacuum_limit_pa",
            label="Maker’s highest pressure",
            unit="Pa",
        ),
        Entry(name="altitude_m", label="Altitude of the site", unit="m", least=ANY),
        Entry(name="curve", label="Curve"),
        Entry(name="pickup_a", label="Pickup", unit="A"),
        Entry(name="time_dial", label="Time dial", hint="in s for a definite time"),
        Entry(
            name="tolerance_pct",
            label="Declared tolerance",
            unit="%",
            least=FROM_ZERO,
            hint="blank: the default",
        ),
        Entry(
            name="tolerance_s",
            label="Declared tolerance, fixed part",
            unit="s",
            least=FROM_ZERO,
            hint="blank: the default",
        ),
        Entry(
            name="bands",
            label="Assigned error by multiple",
            choices=tuple((name, said("bands", name)) for name in BANDS),
            hint="the declared tolerance is then the assigned error",
        ),
        Entry(
            name="ceiling_multiple",
            label="Curve flat above",
            unit="× pickup",
            hint="blank: never",
        ),
        Entry(
            name="minimum_time_s",
            label="Minimum operating time",
            unit="s",
            least=FROM_ZERO,
            hint="blank: none",
        ),
        Entry(
            name="pickup_error_pct",
            label="Declared error of pickup",
            unit="%",
            least=FROM_ZERO,
            hint="widens the band",
        ),
        Entry(
            name="current_error_pct",
            label="Error of the injected current",
            unit="%",
            least=FROM_ZERO,
            hint="widens the band",
        ),
        Entry(
            name="timed_against",
            label="Judged against",
            choices=_words(AGAINST),
            hint="the setting where nothing is chosen",
        ),
    )
}
EXAMPLES: Mapping[str, str] = {
    "timed": "30:2.1 60:3.0",
    "steps": "1:5.2 2.5:5.0",
    "leakage": "10:3.1 20:6.0",
}
OTHERS = (
    Entry(name="other_1", label="Another pole", hint="same unit and conditions"),
    Entry(name="other_2", label="A third pole", hint="same unit and conditions"),
)
ACCURACY = (
    Entry(
        name="accuracy_pct",
        label="Accuracy, % of reading",
        least=FROM_ZERO,
        hint="blank: not known",
    ),
    Entry(
        name="accuracy_fixed",
        label="Accuracy, fixed part",
        least=FROM_ZERO,
        hint="in the unit of the value",
    ),
)


def subject_entries(
    procedure: str, curves: Sequence[tuple[str, str]]
) -> Sequence[Entry]:
    """Return what the rule is compiled from; *curves* are those of the table."""
    unit = said_unit(PROCEDURES[procedure].default_unit)
    found = []
    for name in _names(PROCEDURES[procedure]):
        entry = SUBJECT[name]
        if name == "curve":
            entry = replace(entry, choices=tuple(curves))
        if name == "limit" and len(PROCEDURES[procedure].units) > 1:
            entry = replace(entry, hint="in the unit of the value")
        elif name == "limit":
            entry = replace(entry, unit=unit)
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


def condition_entries(procedure: Procedure) -> Sequence[Entry]:
    """Return the conditions that a card of the procedure asks for."""
    return [
        Entry(
            name=ask["name"],
            label=ask["label"],
            unit=ask["unit"],
            least=ANY if ask["name"].endswith("temperature_c") else FROM_ZERO,
            choices=_words(ask["choices"]),
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
    return (*(OTHERS if procedure.compared else ()), *ACCURACY)
