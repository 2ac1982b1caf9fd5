"""Assignments from day to day, in the site's zone; owners' people have none."""

from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.schema import SiteAssignment
from models.services.keeping.check_record import check_record
from models.services.people import access, assignments
from tests.scenario import (
    ADMINISTRATOR,
    BEGAN,
    LEAD,
    OFF_SITE,
    OTHER_SITE,
    OWNER,
    SITE,
    TECHNICIAN,
    Cast,
    fixed_id,
)

DAY = date(2026, 3, 10)
NOON = datetime(2026, 3, 10, 0, 0, tzinfo=UTC)  # the site's clocks are 13 hours ahead


def give(session: Session, who: Cast, site: str = SITE, **changes: Any) -> UUID:
    given: dict[str, Any] = {
        "by_id": ADMINISTRATOR.id,
        "from_day": DAY,
        "until_day": None,
        "now": BEGAN,
    }
    return assignments.assign_person(
        session, person_id=who.id, site_id=fixed_id(site), **given | changes
    )


def sees(session: Session, who: Cast, at: datetime) -> list[str]:
    session.info["clock"] = lambda: at
    person = access.person_of(session, who.id)
    found = set(session.scalars(access.visible_sites(person)).all())
    return [site for site in (SITE, OTHER_SITE) if fixed_id(site) in found]


# days, moment -> whether they see the site; the site's day begins 13 hours before UTC's
MOMENTS: dict[str, tuple[date, date | None, datetime, bool]] = {
    "on the first day": (DAY, None, NOON, True),
    "the site's first hour": (DAY, None, datetime(2026, 3, 9, 11, tzinfo=UTC), True),
    "the hour before": (DAY, None, datetime(2026, 3, 9, 10, 59, tzinfo=UTC), False),
    "on the last day": (DAY, DAY, NOON, True),
    "its last minute": (DAY, DAY, datetime(2026, 3, 10, 10, 59, tzinfo=UTC), True),
    "the day after": (DAY, DAY, datetime(2026, 3, 10, 11, tzinfo=UTC), False),
    "long after": (DAY, None, NOON + timedelta(days=900), True),
    "before it begins": (DAY + timedelta(days=1), None, NOON, False),
}


@pytest.mark.parametrize(
    ("first", "last", "moment", "seen"), MOMENTS.values(), ids=MOMENTS
)
def test_a_site_is_seen_on_the_days_of_the_assignment(
    place: Session, first: date, last: date | None, moment: datetime, seen: bool
) -> None:
    give(place, OFF_SITE, from_day=first, until_day=last)
    assert sees(place, OFF_SITE, moment) == ([SITE] if seen else [])


def test_what_ended_stays_as_history_and_can_begin_again(place: Session) -> None:
    first = give(place, OFF_SITE)
    assignments.end_assignment(
        place, by_id=ADMINISTRATOR.id, assignment_id=first, until_day=DAY, now=NOON
    )
    assert sees(place, OFF_SITE, NOON + timedelta(days=1)) == []
    with pytest.raises(ConflictError, match="ended on 2026-03-10"):
        assignments.end_assignment(
            place,
            by_id=ADMINISTRATOR.id,
            assignment_id=first,
            until_day=DAY + timedelta(days=5),
            now=NOON + timedelta(days=2),
        )
    again = give(place, OFF_SITE, from_day=DAY + timedelta(days=3), now=NOON)
    assert again != first
    assert sees(place, OFF_SITE, NOON + timedelta(days=3)) == [SITE]
    assert place.query(SiteAssignment).filter_by(person_id=OFF_SITE.id).count() == 2
    assert give(place, OFF_SITE, from_day=DAY + timedelta(days=4), now=NOON) == again
    assert check_record(place).faults == []


REFUSED: dict[str, tuple[Cast, str, dict[str, Any], str, str]] = {
    "an owner's person to another owner's site": (
        OWNER,
        OTHER_SITE,
        {},
        "site",
        "never see another owner's site",
    ),
    "an owner's person to their own": (OWNER, SITE, {}, "site", "without being"),
    "who only administers": (ADMINISTRATOR, SITE, {}, "site", "neither tests nor"),
    "an end before its beginning": (
        OFF_SITE,
        SITE,
        {"until_day": DAY - timedelta(days=1)},
        "until_day",
        "before the first",
    ),
}


def test_what_is_refused(place: Session) -> None:
    for case, (who, site, changes, field, words) in REFUSED.items():
        with pytest.raises(InputError, match=words) as refused:
            give(place, who, site, **changes)
        assert [f.field for f in refused.value.faults] == [field], case
    for by in (LEAD, TECHNICIAN, OWNER):
        with pytest.raises(ForbiddenError):
            give(place, OFF_SITE, by_id=by.id)
        with pytest.raises(ForbiddenError):
            assignments.end_assignment(
                place, by_id=by.id, assignment_id=uuid4(), until_day=DAY, now=BEGAN
            )
    with pytest.raises(NotFoundError):
        assignments.end_assignment(
            place,
            by_id=ADMINISTRATOR.id,
            assignment_id=uuid4(),
            until_day=DAY,
            now=BEGAN,
        )
    key = give(place, OFF_SITE)
    with pytest.raises(InputError, match="It began on"):
        assignments.end_assignment(
            place,
            by_id=ADMINISTRATOR.id,
            assignment_id=key,
            until_day=DAY - timedelta(days=1),
            now=BEGAN,
        )
