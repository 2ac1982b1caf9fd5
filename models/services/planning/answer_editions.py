"""Keep which edition the contract names, and choose it where another is in use."""

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.criteria.prints import prints_of
from models.schema import Lineup, Person
from models.services.criteria.editions import choose_edition, prints_in_use
from models.services.planning.round_plan import EditionAnswer


def answer_editions(
    session: Session,
    person: Person,
    lineup: Lineup,
    answers: Iterable[EditionAnswer],
    *,
    title: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> list[dict[str, Any]]:
    """Return the answers as the round keeps them; *title* is the round's.

    Where the site uses another print, the one that the contract names is chosen for
    the site, so that whoever judges again finds it in force. Raises InputError for a
    print that cannot stand there and for a document that is not named.
    """
    in_use = prints_in_use(session, lineup.site)
    kept = []
    for one in answers:
        if one.print != in_use.get(one.table, one.table):
            choose_edition(
                session,
                person_id=person.id,
                site_id=lineup.site_id,
                table_key=one.table,
                print_key=one.print,
                for_owner=False,
                document=one.document,
                reason=f"The contract names it; {title} of {lineup.name} was planned.",
                now=now,
                new_id=new_id,
            )
        kept.append(_kept(one))
    return kept


def _kept(one: EditionAnswer) -> dict[str, Any]:
    found = next(p for p in prints_of(one.table) if p.key == one.print)
    return {
        "table": one.table,
        "title": prints_of(one.table)[0].title,
        "print": one.print,
        "cited_as": found.cited_as,
        "document": one.document.strip(),
    }
