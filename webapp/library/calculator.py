"""From what was typed into the calculator to a verdict; nothing is kept."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.errors import Fault, InputError
from models.fields import read_value
from models.judging import Accuracy, Criteria, Reading, Rule, check_reading
from models.judging.series import parse_series, series_text
from models.procedures import PROCEDURES, Procedure, Subject, compile_rule, judge
from models.services.setup.programmes import first_procedure
from webapp.library.form_fields import (
    FormField,
    condition_fields,
    reading_fields,
    row_fields,
    subject_fields,
)

Typed = Mapping[str, str]
VALUE = ("value", "outcome")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The judgement of what was typed, with the rule that it rests on."""

    text: str
    unit: str | None
    rule: Rule
    judgement: Mapping[str, Any]
    conditions: Mapping[str, Any]


def curve_choices(criteria: Criteria) -> list[tuple[str, str]]:
    """Return the curves of the table as (name, words)."""
    return [(r["curve"], r["label"]) for r in criteria.table("relay_curves").rows]


def work_out(procedure: Procedure, typed: Typed, criteria: Criteria) -> Answer:
    """Judge what was typed, as `models.judging.judge` does.

    Raises InputError with every fault, each with the field that it was typed in.
    """
    faults: list[Fault] = []
    subject = _subject(procedure, typed, criteria, faults)
    conditions = _read(condition_fields(procedure), typed, faults)
    conditions |= _rows(row_fields(procedure), typed, faults)
    own = _read(
        [e for e in reading_fields(procedure) if e.name.startswith("accuracy")],
        typed,
        faults,
    )
    readings = _readings(procedure, typed, conditions, _accuracy(own), faults)
    if faults:
        raise InputError(*faults)
    rule = compile_rule(procedure.name, Subject(**subject), criteria)
    judgement = judge([(rule, reading) for reading in readings])[0]
    return Answer(
        text=readings[0].text,
        unit=readings[0].unit,
        rule=rule,
        judgement=judgement.as_json(),
        conditions=conditions,
    )


def rule_for(procedure: Procedure, typed: Typed, criteria: Criteria) -> Rule:
    """Return the rule for the chosen subject; InputError with every fault."""
    faults: list[Fault] = []
    subject = _subject(procedure, typed, criteria, faults)
    if faults:
        raise InputError(*faults)
    return compile_rule(procedure.name, Subject(**subject), criteria)


def _subject(
    procedure: Procedure, typed: Typed, criteria: Criteria, faults: list[Fault]
) -> dict[str, Any]:
    entries = subject_fields(procedure.name, curve_choices(criteria))
    fields = _read(entries, typed, faults)
    if fields.keys() & procedure.columns.keys():
        unit = typed.get("unit", "")
        fields["limit_unit"] = unit if unit in procedure.units else None
    return fields


def _read(
    entries: Iterable[FormField], typed: Typed, faults: list[Fault]
) -> dict[str, Any]:
    """Return what is given: numbers as numbers, choices as words."""
    found: dict[str, Any] = {}
    for entry in entries:
        text = typed.get(entry.name, "").strip()
        if not text:
            continue
        try:
            found[entry.name] = read_value(entry.field or entry.name, text)
        except InputError as error:
            faults += error.faults
    return found


def _rows(
    entries: Iterable[FormField], typed: Typed, faults: list[Fault]
) -> dict[str, str]:
    """Return the rows of readings that are given, each as one line of text."""
    found = {}
    for entry in entries:
        text = typed.get(entry.name, "").strip()
        if not text:
            continue
        try:
            found[entry.name] = series_text(parse_series(entry.name, text))
        except InputError as error:
            faults += error.faults
    return found


def _accuracy(own: Mapping[str, float]) -> Accuracy | None:
    if not own:
        return None
    return Accuracy(own.get("accuracy_pct", 0.0), own.get("accuracy_fixed", 0.0))


def _readings(
    procedure: Procedure,
    typed: Typed,
    conditions: Mapping[str, Any],
    accuracy: Accuracy | None,
    faults: list[Fault],
) -> list[Reading]:
    """Return the reading, and after it those that it is compared with."""
    unit = typed.get("unit", "") or None
    found = []
    for name, text in _texts(procedure, typed, faults):
        try:
            _, unit_found = check_reading(procedure, text, unit)
        except InputError as error:
            for fault in error.faults:
                place = name if fault.field == "value" else fault.field
                faults.append(Fault(field=place, message=fault.message))
            continue
        found.append(
            Reading(
                key=name,
                text=text,
                unit=unit_found,
                accuracy=accuracy if unit_found else None,
                conditions=conditions,
            )
        )
    return found


def _texts(
    procedure: Procedure, typed: Typed, faults: list[Fault]
) -> Sequence[tuple[str, str]]:
    """Return (field, text) of each reading that is typed, the reading itself first."""
    value, outcome = (typed.get(name, "").strip() for name in VALUE)
    if value and outcome:
        message = "Give a number or an outcome, not both."
        faults.append(Fault(field="outcome", message=message))
        return ()
    first = ("outcome", outcome) if outcome or not procedure.units else ("value", value)
    others = [
        (entry.name, typed[entry.name])
        for entry in reading_fields(procedure)
        if entry.name.startswith("other") and typed.get(entry.name, "").strip()
    ]
    return (first, *others)


def procedure_named(name: str) -> Procedure:
    """Return the procedure; that with which a round begins where there is none."""
    return PROCEDURES.get(name) or PROCEDURES[first_procedure()]
