"""Load the acts that a round's cards rest on, in a fixed number of queries."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, Row, Select, and_, func, or_, select
from sqlalchemy.orm import Session

from models.schema import Person, Round, SafetyAct
from models.services.safety.act_rows import act_json
from models.services.safety.keep_acts import last_seq

StoredAct = Row[*tuple[Any, ...]]  # COLUMNS, and `by_name`
COLUMNS = [column for column in SafetyAct.__table__.columns if column.name != "site_id"]
SHOWN = timedelta(hours=24)  # what ended is shown for so long
LONGEST_SHIFT = timedelta(hours=48)  # no crew is older, whatever the site's limit


def acts_of_round(session: Session, round_: Round) -> list[StoredAct]:
    """Return all acts that the round's cards rest on, as they arrived.

    They are those of its lineup and of the whole site, from the first crew or
    clearance under which it was worked to the last act of the round, or to now while
    it is open. Five queries, each by an index.
    """
    is_open = round_.state == "open"
    first, last = _of_the_round(session, round_)
    if first is None and not is_open:
        return []
    began = _opened_before(session, round_, first)
    opened = [one.seq for one in began if one.span != "stop"]
    stops = [one for one in began if one.span == "stop"]
    if first is not None:
        opened.append(first.seq)
    if not opened:
        return stops
    found = _between(session, round_, min(opened), None if is_open else last)
    return _with(stops, found)


def acts_in_force(session: Session, round_: Round, now: datetime) -> list[StoredAct]:
    """Return the acts a tablet needs: of what stands, or ended in the last 24 hours."""
    spans = _spans(session, round_, now - LONGEST_SHIFT)
    living = list(_living(spans, now))
    if not living:
        return []
    opened = [one.seq for one in living if one.span != "stop"]
    stops = [one for one in living if one.span == "stop"]
    if not opened:
        return stops
    return _with(stops, _between(session, round_, min(opened), None))


def _with(stops: list[StoredAct], found: list[StoredAct]) -> list[StoredAct]:
    seen = {one.id for one in found}
    return [*(one for one in stops if one.id not in seen), *found]


def acts_since(session: Session, round_: Round, since: int) -> list[StoredAct]:
    """Return the acts that arrived after the number *since*: one query."""
    return _between(session, round_, since + 1, None)


def cursor(session: Session, round_: Round) -> int:
    """Return the number of the newest act of the round's site."""
    return last_seq(session, round_.lineup.site_id)


def acts_json(rows: Iterable[StoredAct]) -> list[dict[str, Any]]:
    """Return acts as JSON."""
    return [act_json(row) for row in rows]


def _between(
    session: Session, round_: Round, since: int, until: int | None
) -> list[StoredAct]:
    asked = _acts(_concerns(round_), SafetyAct.seq >= since)
    if until is not None:
        asked = asked.where(SafetyAct.seq <= until)
    return list(session.execute(asked))


def _acts(*where: ColumnElement[bool]) -> Select[*tuple[Any, ...]]:
    """Select acts as they arrived: their columns, and who was signed in."""
    return (
        select(*COLUMNS, Person.name.label("by_name"))
        .outerjoin(Person, Person.id == SafetyAct.by_id)
        .where(*where)
        .order_by(SafetyAct.seq)
    )


def _concerns(round_: Round) -> ColumnElement[bool]:
    """Acts of the round's lineup, and of the whole site."""
    lineup = SafetyAct.lineup_id
    return and_(
        SafetyAct.site_id == round_.lineup.site_id,
        or_(lineup == round_.lineup_id, lineup.is_(None)),
    )


def _of_the_round(
    session: Session, round_: Round
) -> tuple[StoredAct | None, int | None]:
    """Return the round's first act, and the number of its last."""
    own = SafetyAct.round_id == round_.id
    first = session.scalar(select(func.min(SafetyAct.seq)).where(own))
    last = session.scalar(select(func.max(SafetyAct.seq)).where(own))
    if first is None:
        return None, None
    site = SafetyAct.site_id == round_.lineup.site_id
    return session.execute(_acts(site, SafetyAct.seq == first)).one(), last


def _opened_before(
    session: Session, round_: Round, first: StoredAct | None
) -> list[StoredAct]:
    """Return what stood when the round's first act arrived, or opened since."""
    moment = first.at if first else round_.opened_at
    spans = _spans(session, round_, moment - LONGEST_SHIFT)
    before = [one for one in spans if first is None or one.seq <= first.seq]
    ended = {one.of_id for one in before if _ends(one)}
    return [one for one in before if one.of_id not in ended]


def _spans(session: Session, round_: Round, crews_from: datetime) -> list[StoredAct]:
    """Return what opens and ends: crews from a time on, isolations, stops."""
    span = SafetyAct.span
    wanted = or_(
        and_(span == "crew", SafetyAct.at >= crews_from),
        span.in_(("isolation", "stop")),
    )
    return list(session.execute(_acts(_concerns(round_), wanted)))


def _ends(one: StoredAct) -> bool:
    """Whether an act ends what it is about: a part that is handed back does not."""
    if one.act == "hand_back":
        return one.body.get("cells") is None
    return one.act in ("end_crew", "release")


def _living(spans: list[StoredAct], now: datetime) -> Iterable[StoredAct]:
    """Yield what opens and ends all that stands, or ended in the last 24 hours."""
    ended: dict[UUID, datetime] = {one.of_id: one.at for one in spans if _ends(one)}
    for one in spans:
        if ended.get(one.of_id, now) >= now - SHOWN:
            yield one
