"""What the calculator asks for, procedure by procedure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from models.judging import PROCEDURES, Procedure
from models.judging.quantities import said_unit
from models.judging.series import Series
from models.judging.subject import CONDUCTORS, GEARS, INSULATIONS
from models.judging.timing_options import AGAINST, BANDS
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
# What a rule of each procedure is compiled from; of any other, all of it.
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
    names = OF_PROCEDURE.get(procedure, tuple(SUBJECT))
    unit = said_unit(PROCEDURES[procedure].default_unit)
    found = []
    for name in names:
        entry = SUBJECT[name]
        if name == "curve":
            entry = replace(entry, choices=tuple(curves))
        if name == "limit" and len(PROCEDURES[procedure].units) > 1:
            entry = replace(entry, hint="in the unit of the value")
        elif name == "limit":
            entry = replace(entry, unit=unit)
        found.append(entry)
    return found


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
    return (*(OTHERS if procedure.name in COMPARED else ()), *ACCURACY)
