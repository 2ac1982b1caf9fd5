"""The rules that the cards of a lineup would carry if they were planned today."""

from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.judging import Subject, compile_rule
from models.schema import Apparatus, Lineup
from models.services.criteria_in_force import criteria_in_force
from models.services.nameplate import subject_of


class RulesInForce:
    """Compiles rules for one lineup from its nameplates and the criteria in force."""

    def __init__(self, session: Session, lineup: Lineup, firm_id: UUID) -> None:
        """Read the criteria once; apparatus of one kind mostly share their rules.

        *firm_id*: the firm that plans the round, for `criteria_in_force`.
        """
        self.lineup = lineup
        self.criteria = criteria_in_force(session, lineup, firm_id)
        self._compiled: dict[tuple[str, Subject], dict[str, Any]] = {}

    def rule(self, apparatus: Apparatus, procedure: str) -> dict[str, Any]:
        """Return the rule of *procedure* on *apparatus*, as it is stored."""
        subject = subject_of(self.lineup, apparatus, procedure)
        key = (procedure, subject)
        if key not in self._compiled:
            rule = compile_rule(procedure, subject, self.criteria)
            self._compiled[key] = rule.to_json()
        return self._compiled[key]
