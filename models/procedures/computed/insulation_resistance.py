"""Insulation resistance: a minimum at 20 degC by voltage class."""

from collections.abc import Iterator, Sequence
from typing import Any

from models.judging.near import near
from models.judging.notes.placing import Made, placed
from models.judging.parts import Part
from models.judging.rules import Rule
from models.judging.series import STEPS, TIMED
from models.judging.tables import MAKER, Criteria, Row, Table
from models.procedures import precedence
from models.procedures.doubts import doubtful_rows, other_print
from models.procedures.given import STANDINGS
from models.procedures.procedure import (
    AIR_TEMPERATURE,
    GEARS,
    HUMIDITY,
    SWITCHING,
    TEMPERATURE,
    Givable,
    Points,
    Procedure,
    ask,
    safety,
)
from models.procedures.subject import Subject

MINIMUM = Givable(
    name="insulation_minimum",
    title="Insulation resistance at 20 °C, at least",
    side="least",
    units=("MOhm", "GOhm", "kOhm", "TOhm"),
)
PROCEDURE = Procedure(
    name="insulation_resistance",
    title="Insulation resistance",
    method=(
        "Apply the dc test voltage between the conductor and everything it is to be "
        "insulated from, the rest grounded, and read after one minute. The reading is "
        "corrected to 20 °C before it is compared."
    ),
    units=("GOhm", "MOhm", "kOhm", "TOhm"),
    default_unit="GOhm",
    asks=(
        TEMPERATURE,
        HUMIDITY,
        AIR_TEMPERATURE,
        ask("test_kv", "Test voltage, dc"),
    ),
    outcomes=(),
    preconditions=("IR1", "IR2", "IR3", "IR4", "IR5", "IR6", "IR7"),
    safety=safety("IR"),
    series=(TIMED, STEPS),
    gears=GEARS,
    apparatus=("bus", *SWITCHING, "ct", "vt", "arrester", "cable"),
    points=Points("phases"),
    rests_on=("rated_kv", "insulation", "insulation_halves_k", "gear"),
    columns={"limit": ()},
    givable=(MINIMUM,),
    notes=("humidity", "dew_point", "polarization", "step_voltage"),
    worse="lower",
    scale="log",
    example={
        "value": "4.2",
        "unit": "GOhm",
        "accuracy_pct": "5",
        "temperature_c": "28",
        "humidity_pct": "45",
        "test_kv": "2.5",
        "rated_kv": "15",
        "insulation": "solid",
    },
)

# Rated maximum voltage (kV) -> voltage class (kV); any other rating goes to the
# smallest class not below rating / 1.1 (common practice: a class name is the
# nominal voltage, about a tenth below the rated maximum).
CLASS_OF_RATING = (
    (4.76, 5.0),
    (8.25, 8.0),
    (15.0, 15.0),
    (15.5, 15.0),
    (25.8, 25.0),
    (27.0, 25.0),
    (38.0, 34.5),
)
MARGIN = 1.1
PRINTS = ("insulation_minimum", "insulation_minimum_older")
CORRECTION = "insulation_correction_20"
AT_C = 20.0
BASE = "MOhm"


def compile_rule(
    subject: Subject, criteria: Criteria, edition: str = "insulation_minimum"
) -> Rule:
    """Return the rule: minimum and test voltage of the class, corrected to 20 degC.

    What a project or a maker gives goes before the table's minimum. *edition*
    names the table: the current print by default, the older one as
    `insulation_minimum_older`.
    """
    row = None
    cites: list[Part] = []
    unjudged: list[dict[str, Any]] = []
    table = criteria.table(edition)
    if (rated_kv := subject.number("rated_kv")) is not None:
        row = class_row(rated_kv, table.rows)
    bounds: list[dict[str, Any]] = []
    minimum = _minimum(subject, table, row)
    if minimum is not None:
        bounds.append({"kind": "low", "value": minimum.value, "cite": len(cites)})
        if minimum.cite["provenance"] in STANDINGS:  # the table's row follows below
            cites.append(minimum.cite)
    else:
        unjudged.append(
            {"reason": "The rated voltage is not known, so there is no minimum."}
        )
    gates: list[dict[str, Any]] = [
        {
            "on": "temperature_c",
            "known": True,
            "reason": "The temperature is not known: the reading cannot be corrected.",
        }
    ]
    if row is not None:
        gates.append(_voltage_gate(row))
        cites.append(table.cite(row))
    correction, factors = _correction(subject, criteria, len(cites))
    cites.append(factors)
    notes = placed(cites, *_notes(subject, criteria, table, row))
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        notes=notes,
        gates=gates,
        correction=correction,
        bounds=bounds,
        unjudged=unjudged,
        cite=cites,
    )


def _notes(
    subject: Subject, criteria: Criteria, table: Table, row: Row | None
) -> Iterator[Made | None]:
    if subject.number("insulation_halves_k") is None:
        yield from doubtful_rows(criteria.table(CORRECTION), _insulation(subject))
    if row is not None:
        for key in PRINTS:
            yield other_print(row, table, criteria.table(key))


def class_row(rated_kv: float, rows: Sequence[Row]) -> Row:
    """Return the row of the class that a rated maximum voltage belongs to."""
    for rating, class_kv in CLASS_OF_RATING:
        if near(rated_kv, rating):
            return next(row for row in rows if near(row["class_kv"], class_kv))
    for row in rows:
        wanted = rated_kv / MARGIN
        if row["class_kv"] > wanted or near(row["class_kv"], wanted):
            return row
    return rows[-1]  # "46 kV and above"


def _minimum(
    subject: Subject, table: Table, row: Row | None
) -> precedence.Claim | None:
    tabled = None
    if row is not None:
        tabled = precedence.tabled(MINIMUM, row["minimum"], table.cite(row))
    return precedence.decides(
        [
            *precedence.given(subject, MINIMUM),
            precedence.on_nameplate(MINIMUM, subject.column("limit", BASE)),
            tabled,
        ]
    )


def _voltage_gate(row: Row) -> dict[str, Any]:
    return {
        "on": "test_kv",
        "at_least": row["test_kv"],
        "unit": "kV",
        "reason": "The test voltage is below that of the table.",
    }


def _insulation(subject: Subject) -> str:
    return "oil" if subject.word("insulation") == "oil" else "solid"


def _correction(
    subject: Subject, criteria: Criteria, cite: int
) -> tuple[dict[str, Any], Part]:
    """Return the correction and its source: the maker's, else the table's column."""
    column = _insulation(subject)
    table = criteria.table(CORRECTION)
    points = [[row["temperature_c"], row[column]] for row in table.rows]
    label = f"{column} insulation{_assumed(subject)}"
    source: Part = table.cite_column(column, note="correction factors")
    if (halves_k := subject.number("insulation_halves_k")) is not None:
        points = [[at_c, 2 ** ((at_c - AT_C) / halves_k)] for at_c, _ in points]
        label = f"by the maker, half for each {halves_k:g} K"
        source = {**MAKER, "row": "correction of the insulation resistance"}
    by = {"by": "factor", "reference_c": AT_C, "label": label}
    return {**by, "points": points, "cite": cite}, source


def _assumed(subject: Subject) -> str:
    """Say that a sealed tank is corrected as if its insulation were solid.

    No factors are published for insulation in a sealed tank.
    """
    sealed = subject.word("gear") == "gas_insulated"
    if not sealed or subject.word("insulation") is not None:
        return ""
    return " (taken for the sealed tank: ask its maker)"
