"""Compile a criterion into a rule, procedure by procedure."""

from collections.abc import Callable, Mapping

from models.errors import NotFoundError
from models.judging.kinds import (
    contact_resistance,
    dielectric_withstand,
    insulation_resistance,
    relay_timing,
    vacuum_integrity,
)
from models.judging.notes.choice import with_notes
from models.judging.rules import Rule
from models.judging.subject import Subject
from models.judging.tables import Criteria

COMPILERS: Mapping[str, Callable[[Subject, Criteria], Rule]] = {
    "insulation_resistance": insulation_resistance.compile_rule,
    "contact_resistance": contact_resistance.compile_rule,
    "vacuum_integrity": vacuum_integrity.compile_rule,
    "relay_timing": relay_timing.compile_rule,
    "dielectric_withstand": dielectric_withstand.compile_rule,
}


def compile_rule(procedure: str, subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule of *procedure* for *subject*; NotFoundError for no such one."""
    if procedure not in COMPILERS:
        raise NotFoundError("procedure", procedure)
    rule = COMPILERS[procedure](subject, criteria)
    return with_notes(rule, subject, criteria)
