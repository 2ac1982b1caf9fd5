"""Choices of another standard's table, as they could be made once: they still hold.

No print that is offered moves a verdict of the scenario's round; these do.
"""

from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.schema import EditionChoice, Site
from models.services.keeping.log import append_log
from tests.models.services.criteria import test_editions
from tests.scenario import BEGAN, LEAD, SITE, Cast, fixed_id

BEFORE = ("contact_test_current_iec", "withstand_field_fraction_iec")


def choose(session: Session, by: Cast = LEAD, **given: Any) -> UUID:
    """Choose a print, or store the choice of one that is not offered any more."""
    if given.get("print_key") in BEFORE:
        return _stored(session, by, **given)
    return test_editions.choose(session, by, **given)


def _stored(
    session: Session,
    by: Cast,
    *,
    table_key: str,
    print_key: str,
    for_owner: bool = False,
    now: Any = BEGAN,
) -> UUID:
    site = session.get_one(Site, fixed_id(SITE))
    site_id = None if for_owner else site.id
    earlier = select(func.count()).where(
        EditionChoice.table_key == table_key,
        EditionChoice.site_id.is_not_distinct_from(site_id),
    )
    choice = EditionChoice(
        id=uuid4(),
        owner_id=site.owner_id,
        site_id=site_id,
        table_key=table_key,
        print_key=print_key,
        document="Specification MH-12, clause 4",
        reason="the contract names the other standard",
        version=session.scalars(earlier).one() + 1,
        by_id=by.id,
        at=now,
    )
    session.add(choice)
    session.flush()
    append_log(
        session,
        actor_id=by.id,
        action="choose edition",
        subject=f"owner {site.owner_id}" if for_owner else f"site {site_id}",
        body={
            "choice": str(choice.id),
            "table": table_key,
            "print": print_key,
            "document": choice.document,
            "reason": choice.reason,
            "version": choice.version,
        },
        now=now,
    )
    return choice.id
