"""Keep acts: those that come together are one entry of the log."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, Protocol
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, ForbiddenError, InputError
from models.schema import Person, SafetyAct, Site
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.receipts import AT_ONCE, Receipts
from models.services.people.access import has_role
from models.services.safety.act_rows import act_row, acts_digest, says_the_same
from models.services.safety.read_act import SentAct, read_act
from models.services.safety.site_things import SiteThings, known_person

ACTION = "safety"
OTHER_CONTENT = (
    "An act with this key was stored before with other content; enter it anew."
)


class Judge(Protocol):
    """Whoever says whether an act may be taken."""

    def act_faults(self, row: SafetyAct, heard_at: int | None) -> list[Fault]:
        """Return why it is not taken, by what the tablet had heard."""

    def came(self, row: SafetyAct) -> None:
        """Take note of an act that was taken."""


class Keeper:
    """Takes acts of one call on one site; `store` adds and logs them, once."""

    def __init__(
        self,
        session: Session,
        site: Site,
        by: Person | None,
        *,
        device: str,
        now: datetime,
        judge: Judge | None = None,
        receipts: Receipts | None = None,
    ) -> None:
        """Whoever takes acts holds the turn already (`take_turn`).

        *receipts*: of the call, where other entries come in it.
        """
        self.receipts = receipts or Receipts(session)
        self._known: dict[UUID, SafetyAct | None] = {}  # by key, what was looked up
        self.judge = judge
        self.said: dict[str, Any] = {}  # by the log, beside the acts
        self.session, self.site, self.by = session, site, by
        self.device, self.now = device, now
        self.things = SiteThings(session, site)
        self.taken: list[SafetyAct] = []
        self._last = last_seq(session, site.id)

    def expect(self, keys: Iterable[UUID]) -> None:
        """Look up which acts are kept under these keys, in a few queries."""
        wanted = sorted(set(keys))
        self._known |= dict.fromkeys(wanted)
        for at in range(0, len(wanted), AT_ONCE):
            part = SafetyAct.id.in_(wanted[at : at + AT_ONCE])
            for row in self.session.scalars(select(SafetyAct).where(part)):
                self._known[row.id] = row

    def take(self, raw: Mapping[str, Any]) -> str:
        """Return stored or known; InputError, ConflictError or ForbiddenError."""
        sent = read_act(raw, device=self.device, arrived_at=self.now)
        if self._is_known(sent):
            return "known"
        known_person(self.session, sent, self.by)
        self._may(sent)
        place = self.things.place(sent)
        seq = self._last + len(self.taken) + 1
        row = act_row(sent, place, site_id=self.site.id, seq=seq, by=self.by)
        self._judged(row, sent)
        self.things.opened(sent, place)
        self.taken.append(row)
        self._known[row.id] = row
        return "stored"

    def _judged(self, row: SafetyAct, sent: SentAct) -> None:
        """Raise InputError where what stands does not allow the act."""
        if self.judge is None:
            return
        if faults := self.judge.act_faults(row, sent.heard_at):
            raise InputError(*faults)
        self.judge.came(row)

    def store(self) -> None:
        """Add what was taken, and say in the log that it was."""
        if not self.taken:
            return
        self.session.add_all(self.taken)
        self.session.flush()
        append_log(
            self.session,
            actor_id=self.by.id if self.by else None,
            action=ACTION,
            subject=f"site {self.site.id}",
            body={
                "first": self.taken[0].seq,
                "last": self.taken[-1].seq,
                "device": self.device,
                "digest": acts_digest(self.taken),
                **self.said,
            },
            now=self.now,
        )
        self._last = self.taken[-1].seq
        self.taken = []

    def _is_known(self, sent: SentAct) -> bool:
        if sent.key not in self._known:
            self._known[sent.key] = self.session.get(SafetyAct, sent.key)
        row = self._known[sent.key]
        if row is None and self.receipts.get(sent.key) is None:
            return False
        if row is not None and says_the_same(row, sent, self.by):
            return True
        raise ConflictError(OTHER_CONTENT)

    def _may(self, sent: SentAct) -> None:
        lead = self.by is not None and has_role(self.by, "lead")
        if sent.act == "release" and not sent.members["agrees"] and not lead:
            raise ForbiddenError(
                "The one who pressed does not agree: the lead releases this stop."
            )


def last_seq(session: Session, site_id: UUID) -> int:
    """Return the number of the last act on a site; 0 before the first."""
    asked = select(func.max(SafetyAct.seq)).where(SafetyAct.site_id == site_id)
    return session.scalar(asked) or 0


def keep_act(
    session: Session,
    *,
    site: Site,
    by: Person | None,
    act: Mapping[str, Any],
    device: str,
    now: datetime,
) -> str:
    """Keep one act that was made at the desk; return stored or known.

    *act* is as a tablet sends it: `key`, `at`, `act` and its members. Without *by*
    it can only be a stop. Raises InputError, ConflictError or ForbiddenError.
    """
    take_turn(session)
    if by is None and act.get("act") != "stop":
        raise ForbiddenError("Sign in first: signed out one can only stop the work.")
    keeper = Keeper(session, site, by, device=device, now=now)
    status = keeper.take(act)
    keeper.store()
    return status
