"""What acts may name on a site: lineups, cells, cards, and what was opened there."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError
from models.schema import Card, Cell, Lineup, Person, Round, SafetyAct, Site
from models.services.safety.read_act import SentAct

SCOPE_OF = {
    "crew": "crew",
    "isolation": "isolation",
    "return": "isolation",
    "point": "cell",
    "test": "card",
    "after": "card",
}
NO_SUCH = {
    "crew": "There is no such crew here; open it first.",
    "isolation": "There is no such clearance here; open it first.",
    "stop": "There is no such stop here.",
    "cell": "There is no such cell on this site.",
    "card": "There is no such card on this site.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where an act belongs; None where it concerns the whole site."""

    lineup_id: UUID | None = None
    round_id: UUID | None = None
    card_id: UUID | None = None
    cell_id: UUID | None = None


class SiteThings:
    """Finds what acts name on one site; what was opened in this call counts too."""

    def __init__(self, session: Session, site: Site) -> None:
        """Find nothing before it is asked for."""
        self.session, self.site = session, site
        self._opened: dict[tuple[str, UUID], UUID | None] = {}
        self._rounds: dict[UUID, UUID | None] = {}

    def place(self, sent: SentAct) -> Place:
        """Return where the act belongs.

        Raises InputError for what it names and the site has not, ConflictError where
        it opens what is open already.
        """
        kind, about = sent.kind, sent.about
        what = self._about(sent)
        if kind.opens:
            self._check_new(what, about)
            return self._open(sent)
        self._check_named(sent)
        if what in ("crew", "stop"):
            self._known(what, about, kind.about)
            return Place()
        if what == "isolation":
            lineup_id = self._known(what, about, kind.about)
            return Place(lineup_id=lineup_id, round_id=self._round(lineup_id))
        if what == "card":
            return self._card(about, kind.about)
        return self._cell(about, kind.about, whole_site=kind.about == "cell")

    def opened(self, sent: SentAct, place: Place) -> None:
        """Take note of what an act has opened."""
        if sent.kind.opens and sent.kind.span:
            self._opened[sent.kind.span, sent.about] = place.lineup_id

    def _about(self, sent: SentAct) -> str:
        """Return the kind of thing that an act is about."""
        if sent.kind.about != "of":
            return sent.kind.about
        if sent.act == "list":
            of_crew = sent.members["register"] in ("set", "place")
            return "crew" if of_crew else "isolation"
        if sent.act == "change":
            return self._found(sent.about)
        return SCOPE_OF[sent.members["scope"]]

    def _found(self, about: UUID) -> str:
        for span in ("crew", "isolation"):
            if self._is_open(span, about):
                return span
        return "card" if self.session.get(Card, about) is not None else "cell"

    def _open(self, sent: SentAct) -> Place:
        members = sent.members
        if sent.act == "open_isolation":
            lineup = self._lineup("lineup", members["lineup"])
            names = {one.name for one in lineup.sections}
            if members["section"] is not None and members["section"] not in names:
                message = f"{lineup.name} has no section '{members['section']}'."
                raise InputError(Fault(field="section", message=message))
            return Place(lineup_id=lineup.id, round_id=self._round(lineup.id))
        self._check_named(sent)
        return Place()

    def _check_named(self, sent: SentAct) -> None:
        """Raise InputError for another thing named that the site has not."""
        members = sent.members
        for one in members.get("lineups", ()):
            self._lineup("lineups", one)
        for one in members.get("cells") or () if sent.act != "list" else ():
            self._cell(UUID(one), "cells")
        if sent.act == "enter":
            self._known("crew", UUID(members["crew"]), "crew")
            if members["isolation"] is not None:
                self._known("isolation", UUID(members["isolation"]), "isolation")
            for one in members["stays"]:
                self._cell(UUID(one), "stays")

    def _lineup(self, field: str, key: str) -> Lineup:
        found = self.session.get(Lineup, UUID(key))
        if found is None or found.site_id != self.site.id:
            message = "There is no such lineup on this site."
            raise InputError(Fault(field=field, message=message))
        return found

    def _card(self, key: UUID, field: str) -> Place:
        card = self.session.get(Card, key)
        if card is None or card.round.lineup.site_id != self.site.id:
            raise InputError(Fault(field=field, message=NO_SUCH["card"]))
        lineup_id = card.round.lineup_id
        return Place(lineup_id=lineup_id, round_id=card.round_id, card_id=key)

    def _cell(self, key: UUID, field: str, *, whole_site: bool = False) -> Place:
        """Return the cell; who enters or leaves it concerns the whole site."""
        cell = self.session.get(Cell, key)
        if cell is None or cell.removed or cell.lineup.site_id != self.site.id:
            raise InputError(Fault(field=field, message=NO_SUCH["cell"]))
        return Place(
            lineup_id=None if whole_site else cell.lineup_id,
            round_id=self._round(cell.lineup_id),
            cell_id=key,
        )

    def _round(self, lineup_id: UUID | None) -> UUID | None:
        """Return the round that is open on a lineup: there is at most one."""
        if lineup_id is None:
            return None
        if lineup_id not in self._rounds:
            asked = select(Round.id).where(
                Round.lineup_id == lineup_id, Round.state == "open"
            )
            self._rounds[lineup_id] = self.session.scalars(asked).first()
        return self._rounds[lineup_id]

    def _known(self, span: str, key: UUID, field: str) -> UUID | None:
        """Return the lineup of what was opened; InputError where nothing was."""
        if not self._is_open(span, key):
            raise InputError(Fault(field=field, message=NO_SUCH[span]))
        return self._opened[span, key]

    def _is_open(self, span: str, key: UUID) -> bool:
        if (span, key) not in self._opened:
            asked = select(SafetyAct.lineup_id).where(
                SafetyAct.site_id == self.site.id,
                SafetyAct.span == span,
                SafetyAct.of_id == key,
            )
            rows: Sequence[Any] = self.session.execute(asked.limit(1)).all()
            if not rows:
                return False
            self._opened[span, key] = rows[0].lineup_id
        return True

    def _check_new(self, what: str, key: UUID) -> None:
        if self._is_open(what, key):
            raise ConflictError(f"This {what} was opened before.")


def known_person(session: Session, sent: SentAct, by: Person | None) -> None:
    """Raise InputError where who says it has an account that is none of the firm's."""
    if sent.person is None or sent.person["id"] is None:
        return
    found = session.get(Person, UUID(sent.person["id"]))
    if found is None or by is None or found.organisation_id != by.organisation_id:
        message = "Choose the person from the list, or write the name alone."
        raise InputError(Fault(field="person", message=message))
