"""Load the acts that a round's cards rest on, in a fixed number of queries."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from sqlalchemy import ColumnElement, Row, Select, and_, func, or_, select
from sqlalchemy.orm import Session

from models.schema import Person, Round, SafetyAct
from models.services.safety.act_rows import act_json
from models.services.safety.keep_acts import last_seq

StoredAct = Row[*tuple[Any, ...]]  # COLUMNS, and `by_name`
UNREAD = ("site_id", "lineup_id", "round_id", "card_id", "cell_id")  # to look up by
COLUMNS = [
    column for column in SafetyAct.__table__.columns if column.name not in UNREAD
]
SHOWN = timedelta(hours=24)  # what ended is shown for so long
LONGEST_SHIFT = timedelta(hours=48)  # no crew is older, whatever the site's limit


def acts_of_round(session: Session, round_: Round) -> list[StoredAct]:
    """Return all acts that the round's cards rest on, as they arrived.

    They are those of its lineup and of the whole site, from the first crew or
    clearance under which it was worked to the last act of the round, or to now while
    it is open. Six queries, each by an index.
    """
    is_open = round_.state == "open"
    first, last = _of_the_round(session, round_)
    if first is None and not is_open:
        return []
    moment = first.at if first else round_.opened_at
    window = _window(session, round_, moment, first.seq if first else None)
    return _in(session, round_, window, None if is_open else last)


def acts_in_force(session: Session, round_: Round, now: datetime) -> list[StoredAct]:
    """Return the acts a tablet needs: of what stands, or ended in the last 24 hours.

    Three queries, each by an index.
    """
    return _in(session, round_, _window(session, round_, now - SHOWN), None)


class _Window(NamedTuple):
    """From which number on acts are loaded, None: none; and stops from before."""

    since: int | None
    stops: list[StoredAct]


def _window(
    session: Session, round_: Round, moment: datetime, first: int | None = None
) -> _Window:
    """Return where the acts begin under which work stood at *moment*, or later.

    *first*: the number of an act that is wanted too. A clearance may stand for longer
    than the crew that opened it: every crew at work since then is whole in it.
    """
    lasting = _spans(session, round_, SafetyAct.span.in_(("isolation", "stop")))
    standing = _standing(lasting, moment)
    cleared = [one for one in standing if one.span == "isolation"]
    earliest = min([moment, *(one.at for one in cleared)])
    shifts = _spans(
        session,
        round_,
        SafetyAct.span == "crew",
        SafetyAct.at >= earliest - LONGEST_SHIFT,
    )
    numbers = [one.seq for one in (*cleared, *_standing(shifts, earliest))]
    numbers += [first] if first is not None else []
    stops = [one for one in standing if one.span == "stop"]
    return _Window(min(numbers, default=None), stops)


def _standing(spans: list[StoredAct], moment: datetime) -> list[StoredAct]:
    """Return what opens and ends all that stood at a moment, or was opened later."""
    ended = {one.of_id: one.at for one in spans if _ends(one)}
    return [one for one in spans if ended.get(one.of_id, moment) >= moment]


def _in(
    session: Session, round_: Round, window: _Window, until: int | None
) -> list[StoredAct]:
    if window.since is None:
        return window.stops
    found = _between(session, round_, window.since, until)
    seen = {one.id for one in found}
    return [*(one for one in window.stops if one.id not in seen), *found]


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


def _spans(
    session: Session, round_: Round, *where: ColumnElement[bool]
) -> list[StoredAct]:
    """Return acts that open and end something."""
    return list(session.execute(_acts(_concerns(round_), *where)))


def _ends(one: StoredAct) -> bool:
    """Whether an act ends what it is about: a part that is handed back does not."""
    if one.act == "hand_back":
        return one.body.get("cells") is None
    return one.act in ("end_crew", "release")
