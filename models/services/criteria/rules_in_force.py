"""The rules that the cards of a lineup would carry if they were planned today."""

from collections.abc import Iterable, Mapping
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.judging import Criteria
from models.procedures import Subject, compile_rule
from models.procedures.baseline import Baseline
from models.schema import Apparatus, GivenCriterion, Lineup
from models.services.criteria.criteria_in_force import criteria_in_force
from models.services.criteria.given_in_force import given_in_force
from models.services.setup.nameplate import subject_of


class RulesInForce:
    """Compiles rules for one lineup from its nameplates and the criteria in force."""

    def __init__(
        self,
        session: Session,
        lineup: Lineup,
        firm_id: UUID,
        given: Iterable[GivenCriterion] | None = None,
        like: "RulesInForce | None" = None,
        prints: Mapping[str, str] | None = None,
    ) -> None:
        """Read the criteria once; apparatus of one kind mostly share their rules.

        *firm_id*: the firm that plans the round, for `criteria_in_force`; *given*:
        other criteria than those that hold on the lineup today; *like*: those of
        another lineup of the same site and firm, whose tables are read already;
        *prints*: other prints than those in use, by the keys of their tables.
        """
        self.lineup = lineup
        self.criteria: Criteria = (
            like.criteria
            if like
            else criteria_in_force(session, lineup, firm_id, prints)
        )
        if given is None:
            given = given_in_force(session, lineup.id)
        self.given = tuple(given)
        self._compiled: dict[tuple[str, Subject], dict[str, Any]] = (
            like._compiled if like else {}
        )

    def rule(
        self, apparatus: Apparatus, procedure: str, baseline: Baseline | None = None
    ) -> dict[str, Any]:
        """Return the rule of *procedure* on *apparatus*, as it is stored.

        At a point with a *baseline* where the rule holds one.
        """
        subject = subject_of(self.lineup, apparatus, procedure, self.given)
        if baseline is not None:
            subject = subject.at_point(baseline)
        key = (procedure, subject)
        if key not in self._compiled:
            rule = compile_rule(procedure, subject, self.criteria)
            self._compiled[key] = rule.to_json()
        return self._compiled[key]
