"""What the scopes say of a round's cards, worked out once somebody asks."""

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime
from functools import cached_property
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Card, Round, SafetyAct
from models.services.safety.round_safety import RoundSafety, safety_of_round

AT_LAST = "9999-12-31T23:59:59Z"  # after all that is known
NOT_GIVEN = ("open", "lapsed")


class RoundScopes:
    """The safety of a round, loaded when a card of it is asked about."""

    def __init__(
        self, session: Session, round_: Round, seen: RoundSafety | None
    ) -> None:
        self._session, self._round, self._seen = session, round_, seen

    @cached_property
    def loaded(self) -> RoundSafety:
        """Book, acts, readings, and who reads them."""
        return self._seen or safety_of_round(self._session, self._round)


class CardScopes:
    """What the acts of safety say of one card (`models.record.values.Scopes`)."""

    def __init__(self, of_round: RoundScopes, card: Card, *, begun: bool) -> None:
        """*begun*: whether an act of safety is about the card."""
        self._of_round, self._card = of_round, str(card.id)
        self.begun = begun

    @cached_property
    def open_after(self) -> Sequence[str]:
        """The codes of what is still to be confirmed after the readings."""
        safety = self._of_round.loaded.safety
        lines = safety.card(self._card, "", AT_LAST)["after"]["lines"]
        return [one["code"] for one in lines if one["state"] in NOT_GIVEN]

    def outside(self, reading_id: UUID) -> Sequence[Mapping[str, Any]]:
        """Return why the card was closed when this reading was taken; empty: open."""
        return self._outside.get(str(reading_id), ())

    @cached_property
    def _outside(self) -> Mapping[str, Sequence[Mapping[str, Any]]]:
        readings = self._readings
        return {
            readings[row["reading"]]["id"]: row["reasons"]
            for row in self._of_round.loaded.safety.outside(self._card)
        }

    def confirmers(self, reading_ids: Collection[UUID]) -> list[str]:
        """Return who confirmed lines of the test by the last of these readings."""
        wanted = {str(one) for one in reading_ids}
        taken = [moment(one) for one in self._readings if one["id"] in wanted]
        names = {
            (act.get("person") or act["by"])["name"]: None
            for act in self._of_round.loaded.acts
            if act["act"] == "line"
            and (act["scope"], act["of"]) == ("test", self._card)
            and any(moment(act) <= at for at in taken)
        }
        return list(names)

    @property
    def _readings(self) -> Sequence[dict[str, Any]]:
        return self._of_round.loaded.rows.readings.get(self._card, [])


def moment(row: Mapping[str, Any]) -> datetime:
    """Return when an act or a reading was made."""
    return datetime.fromisoformat(row["at"])


def scopes_on(
    session: Session, cards: Sequence[Card], seen: Mapping[UUID, RoundSafety]
) -> dict[UUID, CardScopes]:
    """Return by card what its scopes say; one that goes by the list has none.

    A round that was begun by the earlier list goes on by it, but for cards on which
    acts of safety were made.
    """
    asked = select(SafetyAct.card_id).where(
        SafetyAct.card_id.in_([card.id for card in cards])
    )
    begun = set(session.scalars(asked.distinct()))
    named = select(Round).where(Round.id.in_({card.round_id for card in cards}))
    rounds = {one.id: one for one in session.scalars(named)}
    loaded = {
        key: RoundScopes(session, one, seen.get(key)) for key, one in rounds.items()
    }
    return {
        card.id: CardScopes(loaded[card.round_id], card, begun=card.id in begun)
        for card in cards
        if card.id in begun or not rounds[card.round_id].earlier_list
    }
