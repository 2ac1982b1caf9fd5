"""The safety sheet of a round: what is asked, with what is on record so far."""

from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.record.safety_report.told import Told
from models.record.safety_sheet.sheet import safety_sheet
from models.services.keeping.log import stamp
from models.services.people.access import person_of, require, round_of
from models.services.safety.round_safety import safety_of_round

NOTHING: dict[str, Any] = {"stop": None, "crews": [], "isolations": [], "points": {}}


def sheet_of_round(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    now: datetime,
    blank: bool = False,
) -> dict[str, Any]:
    """Return the sheet as a document to print; *blank*: without what is on record.

    Raises NotFoundError and ForbiddenError.
    """
    person = person_of(session, person_id)
    require(person, "see record")
    round_ = round_of(session, person, round_id)
    lineup = round_.lineup
    found = safety_of_round(session, round_, now=now)
    told = Told(
        book=found.book,
        every_act=() if blank else found.acts,
        cards=(),
        lineup=str(lineup.id),
        zone=ZoneInfo(lineup.site.zone),
        now=stamp(now),
    )
    site = NOTHING if blank else found.safety.site(stamp(now))
    return {
        "made_at": stamp(now),
        "zone": lineup.site.zone,
        "revision": round_.revision,
        "site": {"name": lineup.site.name},
        "lineup": {"name": lineup.name, "gear": lineup.gear},
        "round": {"title": round_.title},
        **safety_sheet(told, site),
    }
