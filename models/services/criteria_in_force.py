"""Which criteria a lineup is judged by today."""

from sqlalchemy.orm import Session

from models import criteria
from models.judging import Criteria
from models.schema import Lineup


def criteria_in_force(_session: Session, _lineup: Lineup) -> Criteria:
    """Return the published tables that rules for a lineup are compiled from."""
    return criteria.load()
