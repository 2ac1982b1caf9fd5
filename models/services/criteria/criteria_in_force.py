"""Which criteria a lineup is judged by today."""

from collections.abc import Mapping
from uuid import UUID

from sqlalchemy.orm import Session

from models import criteria
from models.criteria.checked import checked_criteria
from models.criteria.prints import with_prints
from models.judging import Criteria
from models.schema import Lineup
from models.services.criteria.editions import prints_in_use
from models.services.criteria.table_checks import checks_for


def criteria_in_force(
    session: Session,
    lineup: Lineup,
    firm_id: UUID,
    prints: Mapping[str, str] | None = None,
) -> Criteria:
    """Return the tables that rules for a lineup are compiled from.

    The published ones, each in the print that its owner or site has chosen; each
    row as the owner checked it against a licensed copy, else as the firm did that
    plans the round (*firm_id*), else as it is shipped. *prints* go before those that
    were chosen, by the keys of their tables: a plan asks what they would change.
    """
    in_use = {**prints_in_use(session, lineup.site), **(prints or {})}
    others = {key: other for key, other in in_use.items() if other != key}
    chosen = with_prints(criteria.load(), others)
    checks = checks_for(session, (lineup.site.owner_id, firm_id))
    return checked_criteria(chosen, checks)
