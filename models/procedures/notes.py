"""Which notes a rule has: those of its procedure, and by what it compares."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from models.judging import Criteria, Rule
from models.judging.notes import (
    altitude,
    conformity,
    dew_point,
    humidity,
    leakage,
    polarization,
    records,
    step_voltage,
)
from models.judging.notes.placing import Made, placed
from models.procedures.subject import Subject

# bounds at which a probability is worked out
WITH_U = ("low", "high", "operating_time")

MAKERS: Mapping[str, Callable[[Subject, Criteria], Made | None]] = {
    "altitude": lambda s, c: altitude.make(c, s.number("altitude_m")),
    "coil_marks": lambda _s, _c: records.make_marks(),
    "dew_point": lambda _, c: dew_point.make(c),
    "humidity": lambda _, c: humidity.make(c),
    "leakage": lambda _, c: leakage.make(c),
    "polarization": lambda _, c: polarization.make(c),
    "step_voltage": lambda _, c: step_voltage.make(c),
    "travel": lambda s, _: records.make_travel(
        s.number("speed_zone_from_mm"), s.number("speed_zone_to_mm")
    ),
}


def with_notes(
    rule: Rule, names: Sequence[str], subject: Subject, criteria: Criteria
) -> Rule:
    """Return the rule with these notes after its own, and with their sources."""
    chosen = [MAKERS[name](subject, criteria) for name in names]
    if any(bound["kind"] in WITH_U for bound in rule.bounds):
        chosen = [conformity.make(), *chosen]
    cites = list(rule.cite)
    notes = placed(cites, *chosen)
    return replace(rule, notes=[*rule.notes, *notes], cite=cites)
