"""Which criteria a lineup is judged by today."""

from sqlalchemy.orm import Session

from models import criteria
from models.criteria.prints import with_prints
from models.judging import Criteria
from models.schema import Lineup
from models.services.editions import prints_in_use


def criteria_in_force(session: Session, lineup: Lineup) -> Criteria:
    """Return the tables that rules for a lineup are compiled from.

    The published ones, each in the print that its owner or site has chosen.
    """
    return with_prints(criteria.load(), prints_in_use(session, lineup.site))
