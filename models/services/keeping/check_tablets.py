"""Check what is kept of tablets: against the log, and against itself."""

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import LogEntry, Tablet, TabletAct, TabletRound, TabletShare
from models.services.keeping.check_rows import differences
from models.services.keeping.clock import SLACK
from models.services.keeping.log import texted
from models.services.tablets.held_rounds import COUNTS, MOST
from models.services.tablets.hello import SHARE_BYTES
from models.services.tablets.revoked import revocation
from models.services.tablets.waited_for import unsent
from models.signing import chain

ACTIONS = ("revoke tablet", "admit tablet", "release tablet")


def wrong_tablets(session: Session) -> Iterator[str]:
    """Yield a fault for each row about a tablet that cannot be so."""
    acts = session.scalars(select(TabletAct).order_by(TabletAct.at, TabletAct.id)).all()
    tablets = session.scalars(select(Tablet)).all()
    shares = session.scalars(select(TabletShare)).all()
    held = session.scalars(select(TabletRound)).all()
    yield from _acts_against_log(session, {row.id: row for row in acts})
    yield from _without_share(tablets, shares)
    for share in shares:
        if len(share.share) != SHARE_BYTES:
            yield f"{_named(share)} is not {SHARE_BYTES} bytes long"
    for row in held:
        yield from (f"{_on(row)} {why}" for why in _wrong_round(row))
    yield from _released_from_nothing(acts, held)
    if not _was_put_back(session):
        yield from _out_of_order(acts, tablets, shares, held)


def _acts_against_log(
    session: Session, acts: Mapping[UUID, TabletAct]
) -> Iterator[str]:
    said: Counter[bytes] = Counter()
    entries = select(LogEntry).where(LogEntry.action.in_(ACTIONS))
    for entry in session.scalars(entries):
        try:
            body = json.loads(entry.body)
            act = acts.get(UUID(body["key"]))
            what = [body["key"], entry.action, entry.subject, body["round"]]
            said[_line([*what, body["reason"], entry.actor_id])] += 1
        except (ValueError, TypeError, KeyError, AttributeError):
            yield f"log entry {entry.seq} cannot be read"
            continue
        if act and not act.at <= entry.at <= act.at + SLACK:
            yield f"decision {act.id} has another time than the log"
    stored = Counter(_line(_stored(row)) for row in acts.values())
    yield from differences("decision", said, stored)


def _line(what: Sequence[object]) -> bytes:
    return chain.canonical(texted(what))


def _stored(row: TabletAct) -> list[object]:
    what = [row.id, f"{row.act} tablet", f"tablet {row.tablet_id}", row.round_id]
    return [*what, row.reason, row.by_id]


def _without_share(
    tablets: Sequence[Tablet], shares: Sequence[TabletShare]
) -> Iterator[str]:
    """A tablet becomes known with the share of whoever opened it there."""
    given = {share.tablet_id for share in shares}
    for tablet in tablets:
        if tablet.id not in given:
            yield f"tablet {tablet.id} has no share left that opens what it holds"


def _wrong_round(row: TabletRound) -> Iterator[str]:
    for name in COUNTS:
        if not 0 <= getattr(row, name) <= MOST:
            yield f"has {getattr(row, name)} {name} unsent, which no tablet can tell"
    back = row.given_back_at
    if back and unsent(row) and row.told_at < back:
        yield f"was given back with {unsent(row)} unsent"


def _released_from_nothing(
    acts: Sequence[TabletAct], held: Sequence[TabletRound]
) -> Iterator[str]:
    """A round is released only from a tablet that took it along."""
    there = {(row.tablet_id, row.round_id) for row in held}
    for act in acts:
        if act.act == "release" and (act.tablet_id, act.round_id) not in there:
            yield (
                f"round {act.round_id} was released from tablet {act.tablet_id}, and "
                "nobody took it along there"
            )


def _was_put_back(session: Session) -> bool:
    """Whether a clock ran ahead once: times tell no order of what was done then."""
    put_back = select(LogEntry.seq).where(LogEntry.action == "put clock back")
    return session.scalars(put_back.limit(1)).first() is not None


def _out_of_order(
    acts: Sequence[TabletAct],
    tablets: Sequence[Tablet],
    shares: Sequence[TabletShare],
    held: Sequence[TabletRound],
) -> Iterator[str]:
    for tablet in tablets:
        if tablet.last_at + SLACK < tablet.first_at:
            yield f"tablet {tablet.id} called last before it called first"
    for share in shares:
        revoked = revocation(_before(share, acts))
        if revoked and revoked.at + SLACK < share.made_at:
            yield f"{_named(share)} was made while the tablet was revoked"
    for row in held:
        if row.given_back_at and row.given_back_at + SLACK < row.taken_at:
            yield f"{_on(row)} was given back before it was taken along"


def _before(share: TabletShare, acts: Sequence[TabletAct]) -> list[TabletAct]:
    """Return what was decided about the tablet before its share was made."""
    return [
        act
        for act in acts
        if act.tablet_id == share.tablet_id and act.at <= share.made_at
    ]


def _named(share: TabletShare) -> str:
    return f"share of person {share.person_id} on tablet {share.tablet_id}"


def _on(row: TabletRound) -> str:
    return f"round {row.round_id} on tablet {row.tablet_id} of person {row.person_id}"
