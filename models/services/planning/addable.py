"""A card that no programme chose: what may be added, and what is refused."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from models.errors import Fault, InputError
from models.procedures import PROCEDURES
from models.procedures.procedure import Procedure
from models.schema import Apparatus, Lineup
from models.services.keeping.texts import text_faults
from models.services.planning.choices import added_card
from models.services.planning.round_plan import card_key

LONGEST_DETAIL = 120  # characters


@dataclass(frozen=True, slots=True, kw_only=True)
class Addable:
    """Where a card can be added; *known* are the keys of the cards that are there."""

    lineup: Lineup
    apparatus: Sequence[Apparatus]
    known: AbstractSet[str]

    def procedures(self, apparatus: Apparatus) -> list[Procedure]:
        """Return the procedures that serve this apparatus in this gear."""
        return [
            one
            for one in PROCEDURES.values()
            if apparatus.kind in one.apparatus and self.lineup.gear in one.gears
        ]


def read_added(
    where: Addable,
    *,
    apparatus_id: UUID,
    procedure: str,
    detail: str,
    labels: Sequence[str],
    reason: str,
) -> dict[str, Any]:
    """Return an added card as it is kept; InputError for one that cannot be."""
    apparatus = {a.id: a for a in where.apparatus}.get(apparatus_id)
    if apparatus is None:
        message = "Choose an apparatus of this lineup."
        raise InputError(Fault(field="apparatus", message=message))
    served = {one.name: one for one in where.procedures(apparatus)}
    said = " ".join(detail.split())
    faults = [
        *text_faults("detail", detail, "what is tested and how"),
        *text_faults("reason", reason, "why this card is added"),
    ]
    if procedure not in served:
        message = "Choose a procedure that serves this apparatus in this gear."
        faults.append(Fault(field="procedure", message=message))
    if len(said) > LONGEST_DETAIL:
        message = f"Keep it under {LONGEST_DETAIL} characters."
        faults.append(Fault(field="detail", message=message))
    if card_key(apparatus_id, procedure, said) in where.known:
        message = "This card is there already: put it back, or word it otherwise."
        faults.append(Fault(field="detail", message=message))
    if faults:
        raise InputError(*faults)
    card = {
        "apparatus": str(apparatus_id),
        "procedure": procedure,
        "detail": said,
        "unit": served[procedure].default_unit,
        "points": [label for label in labels if label.strip()],
        "reason": reason.strip(),
    }
    added_card(apparatus, card)
    return card
