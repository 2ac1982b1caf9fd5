"""Whether the preconditions were confirmed before each reading, by the times."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import tzinfo

from models.record.values import Card, Confirmation, Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class LateReading:
    """A reading that was taken before all its preconditions were confirmed."""

    card: Card
    reading: Reading
    codes: list[str]  # those not confirmed by then


@dataclass(frozen=True, slots=True, kw_only=True)
class ConfirmedBefore:
    """What the times say of every reading of a round, superseded ones included."""

    readings: int
    late: list[LateReading]
    earlier_day: int  # readings whose last confirmation is of a day before theirs

    @property
    def every(self) -> bool:
        """Whether the preconditions were confirmed before every reading."""
        return self.readings > 0 and not self.late


def confirmed_before(cards: Sequence[Card], zone: tzinfo) -> ConfirmedBefore:
    """Return what the times say; days are those of the site, in *zone*.

    Cards that go by their scopes are not among them: `models.record.safety` says.
    """
    by_list = [card for card in cards if card.scopes is None]
    pairs = [(card, reading) for card in by_list for reading in card.readings]
    late = [
        LateReading(card=card, reading=reading, codes=codes)
        for card, reading in pairs
        if (codes := not_confirmed_by(card, reading))
    ]
    return ConfirmedBefore(
        readings=len(pairs),
        late=late,
        earlier_day=sum(_on_an_earlier_day(card, r, zone) for card, r in pairs),
    )


def is_covered(card: Card, reading: Reading) -> bool:
    """Whether the list was confirmed before a reading, or its scopes stood."""
    if (card.before or card.scopes is None) and not not_confirmed_by(card, reading):
        return True
    return card.scopes is not None and not card.scopes.outside(reading.id)


def not_confirmed_by(card: Card, reading: Reading) -> list[str]:
    """Return the codes that nobody had answered when the reading was taken."""
    answered = {c.code for c in _by_then(card.confirmations, reading)}
    return [code for code in card.before if code not in answered]


def confirmers(card: Card, readings: Iterable[Reading]) -> list[str]:
    """Return the names of those who answered the items before *readings*."""
    names = {
        c.by: None
        for reading in readings
        for c in _by_then(card.confirmations, reading)
        if c.code in card.before
    }
    return list(names)


def _by_then(
    confirmations: Sequence[Confirmation], reading: Reading
) -> list[Confirmation]:
    return [c for c in confirmations if c.at <= reading.taken_at]


def _on_an_earlier_day(card: Card, reading: Reading, zone: tzinfo) -> bool:
    answered = _by_then(card.confirmations, reading)
    made = [c.at for c in answered if c.code in card.before]
    if not made:
        return False
    return max(made).astimezone(zone).date() < reading.taken_at.astimezone(zone).date()
