"""Which notes a rule has: by procedure, and by what it compares."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from models.judging.notes import (
    altitude,
    conformity,
    dew_point,
    humidity,
    leakage,
    polarization,
    step_voltage,
)
from models.judging.notes.placing import Made, placed
from models.judging.rules import Rule
from models.judging.subject import Subject
from models.judging.tables import Criteria

Chosen = Sequence[Made | None]
WITH_U = (
    "low",
    "high",
    "operating_time",
)  # bounds at which a probability is worked out


def with_notes(rule: Rule, subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule with its notes, and their sources after its own."""
    choose = CHOICE.get(rule.procedure)
    chosen = [] if choose is None else choose(subject, criteria)
    if any(bound["kind"] in WITH_U for bound in rule.bounds):
        chosen = [conformity.make(), *chosen]
    cites = list(rule.cite)
    notes = placed(cites, *chosen)
    return replace(rule, notes=notes, cite=cites)


def _insulation(_: Subject, criteria: Criteria) -> Chosen:
    return [
        humidity.make(criteria),
        dew_point.make(criteria),
        polarization.make(criteria),
        step_voltage.make(criteria),
    ]


def _withstand(subject: Subject, criteria: Criteria) -> Chosen:
    return [
        humidity.make(criteria),
        dew_point.make(criteria),
        altitude.make(criteria, subject.altitude_m),
        leakage.make(criteria),
    ]


CHOICE: Mapping[str, Callable[[Subject, Criteria], Chosen]] = {
    "insulation_resistance": _insulation,
    "dielectric_withstand": _withstand,
}
