"""What is wrong with an act: a field, a code of the catalogue, what the words name."""

from collections.abc import Sequence
from typing import Any

from models.record.safety.state import Crew, Isolation
from models.record.safety.times import moment_text

FaultJson = dict[str, Any]


def fault(field: str, code: str, **facts: Any) -> FaultJson:
    """Return a fault at a field of the act."""
    return {"field": field, "code": code, "facts": facts}


def scope_faults(reasons: Sequence[FaultJson]) -> list[FaultJson]:
    """Return reasons why a scope does not stand, as faults of the act."""
    return [fault("scope", one["code"], **one["facts"]) for one in reasons]


def crew_faults(crew: Crew | None) -> list[FaultJson]:
    """Return that a crew is not there or has ended, where it is so."""
    if crew is None:
        return [fault("crew", "crew_unknown")]
    if crew.ended is not None:
        return [fault("crew", "crew_ended", at=moment_text(crew.ended))]
    return []


def isolation_faults(isolation: Isolation | None) -> list[FaultJson]:
    """Return that a clearance is not there or was handed back, where it is so."""
    if isolation is None:
        return [fault("isolation", "isolation_unknown")]
    if isolation.ended is not None:
        return [fault("isolation", "isolation_ended", at=moment_text(isolation.ended))]
    return []
