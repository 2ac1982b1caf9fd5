"""Change a plan before it is opened: cards, points, people, days, editions."""

from collections.abc import Iterable, Sequence
from copy import deepcopy
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.criteria.prints import prints_of
from models.errors import InputError, NotFoundError
from models.record.findings import OUTSIDE_LET_STAND
from models.services.criteria.editions import prints_in_use
from models.services.keeping.log import take_turn
from models.services.keeping.texts import text_faults
from models.services.planning.addable import Addable, read_added
from models.services.planning.crew import crew_of
from models.services.planning.draft import Planning, planning_of, refuse
from models.services.planning.points import read_points
from models.services.planning.round_plan import ADDED, PlanCard, card_key


class PlanChanges:
    """Changes of one plan by one person; each is kept at once."""

    def __init__(
        self, session: Session, *, person_id: UUID, plan_id: UUID, now: datetime
    ) -> None:
        """Take up the plan; NotFoundError when it is not theirs, or opened."""
        take_turn(session)
        self.session, self.now = session, now
        self.found: Planning = planning_of(session, person_id, plan_id)
        self._choices = deepcopy(self.found.draft.choices)

    def leave_out(self, keys: Iterable[str], reason: str = "") -> None:
        """Leave cards out; without a *reason* those only that are optional.

        A card that was added is taken away again.
        """
        cards = self._cards(keys)
        if any(not card.is_optional and card.mark != ADDED for card in cards):
            faults = text_faults("reason", reason, "why these cards are left out")
            if faults:
                raise InputError(*faults)
        for card in cards:
            if card.mark == ADDED:
                self._take_away(card)
            else:
                self._say(card, planned=False, reason=reason.strip(), by=self._me)
        self._keep()

    def put_back(self, keys: Iterable[str]) -> None:
        """Put cards into the plan that are left out, optional or not fitted."""
        for card in self._cards(keys):
            self._say(card, planned=True, reason=None, by=self._me)
        self._keep()

    def assign(self, keys: Iterable[str], to_id: UUID | None) -> None:
        """Give cards to a person of the crew, or to nobody in particular."""
        crew = crew_of(self.session, self.found.person, self.found.lineup)
        if to_id is not None and to_id not in {one.id for one in crew}:
            raise refuse(
                "assigned_to",
                "Choose somebody of your firm who takes readings on this site.",
            )
        for card in self._cards(keys):
            self._say(card, assigned_to=str(to_id) if to_id else None)
        self._keep()

    def schedule(self, keys: Iterable[str], on: date | None) -> None:
        """Plan the day on which cards are done; None: no day."""
        check_day(on, self.now, self.found.lineup.site.zone)
        for card in self._cards(keys):
            self._say(card, planned_on=on.isoformat() if on else None)
        self._keep()

    def change_points(self, key: str, labels: Sequence[str], reason: str) -> None:
        """Give a card other points, with the reason; as proposed needs none."""
        (card,) = self._cards([key])
        plate = next(
            a.nameplate for a in self.found.apparatus if a.id == card.apparatus_id
        )
        points = read_points(card.procedure, labels, was=card.was, nameplate=plate)
        if points == tuple(card.was):
            self._say(card, points=None, points_reason=None)
        else:
            faults = text_faults("reason", reason, "why these points are read")
            if faults:
                raise InputError(*faults)
            named = [point.label for point in points]
            why = reason.strip()
            self._say(card, points=named, points_reason=why, by=self._me)
        self._keep()

    def add_card(
        self,
        *,
        apparatus_id: UUID,
        procedure: str,
        detail: str,
        labels: Sequence[str],
        reason: str,
    ) -> str:
        """Add a card that no programme chose, and return its key."""
        said = read_added(
            Addable(
                lineup=self.found.lineup,
                apparatus=self.found.apparatus,
                known={card.key for card in self.found.plan.cards},
            ),
            apparatus_id=apparatus_id,
            procedure=procedure,
            detail=detail,
            labels=labels,
            reason=reason,
        )
        self._choices.setdefault("added", []).append({**said, "by": self._me})
        self._keep()
        return card_key(apparatus_id, procedure, said["detail"])

    def answer_edition(self, table: str, print_key: str, document: str) -> None:
        """Say which print of a table the contract names, and the document."""
        offered = {p.key for p in prints_of(table) if not p.refused}
        if print_key not in offered:
            raise refuse(f"print_{table}", "Choose one of the editions listed.")
        in_use = prints_in_use(self.session, self.found.lineup.site)
        if print_key != in_use.get(table, table):
            said = "which document names this edition"
            if faults := text_faults(f"document_{table}", document, said):
                raise InputError(*faults)
        self._choices.setdefault("editions", {})[table] = {
            "print": print_key,
            "document": document.strip(),
        }
        self._keep()

    def let_outside_stand(self, setting: str) -> None:
        """Say what an outside reading that is let stand makes of the round."""
        if setting not in OUTSIDE_LET_STAND:
            raise refuse("outside_let_stand", "Choose one of the two.")
        self._choices["outside_let_stand"] = setting
        self._keep()

    @property
    def _me(self) -> str:
        return str(self.found.person.id)

    def _cards(self, keys: Iterable[str]) -> list[PlanCard]:
        known = {card.key: card for card in self.found.plan.cards}
        wanted = list(dict.fromkeys(keys))
        if not wanted:
            raise refuse("cards", "Choose at least one card.")
        for key in wanted:
            if key not in known:
                raise NotFoundError("planned card", key)
        return [known[key] for key in wanted]

    def _say(self, card: PlanCard, **said: Any) -> None:
        """Keep what is said of a card; None takes it away."""
        own = {**self._choices.get("cards", {}).get(card.key, {}), **said}
        kept = {name: value for name, value in own.items() if value is not None}
        self._choices.setdefault("cards", {})[card.key] = kept

    def _take_away(self, card: PlanCard) -> None:
        self._choices["added"] = [
            one
            for one in self._choices.get("added", [])
            if card_key(UUID(one["apparatus"]), one["procedure"], one["detail"])
            != card.key
        ]
        self._choices.get("cards", {}).pop(card.key, None)

    def _keep(self) -> None:
        draft = self.found.draft
        draft.choices, draft.at = deepcopy(self._choices), self.now
        draft.by_id = self.found.person.id
        self.session.flush()


def check_day(on: date | None, now: datetime, zone: str) -> None:
    """Raise InputError for a day that is over at the site."""
    if on is not None and on < now.astimezone(ZoneInfo(zone)).date():
        raise refuse("planned_on", "This day is over: choose today or a later one.")
