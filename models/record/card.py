"""The state of a card: how far it is, what it lacks, who has to sign it."""

from models.record.values import Card, Signature


def card_state(card: Card) -> str:
    """Return one of withdrawn, signed, signing, returned, begun, not_begun.

    *signing*: somebody has signed, and somebody else who took a reading has not.
    """
    if is_withdrawn(card):
        return "withdrawn"
    if is_signed(card):
        return "signed"
    if holding_signatures(card):
        return "signing"
    if card.returned:
        return "returned"
    begun = card.scopes is not None and card.scopes.begun
    if begun or card.confirmations or card.readings or card.noted:
        return "begun"
    return "not_begun"


def is_withdrawn(card: Card) -> bool:
    """Whether the card is out of the programme: a refused withdrawal is none."""
    withdrawal = card.withdrawal
    if withdrawal is None:
        return False
    return withdrawal.answer is None or withdrawal.answer.answer != "refused"


def holding_signatures(card: Card) -> tuple[Signature, ...]:
    """Return the signatures made after the card was last handed back."""
    if card.returned is None:
        return card.signatures
    since = card.returned
    return tuple(s for s in card.signatures if s.at > since)


def is_signed(card: Card) -> bool:
    """Whether everybody has signed who took a reading that holds.

    A round turned over stays as it was: once one signature was enough.
    """
    signed = {s.by_id for s in holding_signatures(card)}
    if card.turned_over:
        return bool(signed)
    return bool(signed) and {r.by_id for r in card.holding} <= signed


def unread_points(card: Card) -> list[str]:
    """Return the labels of the points without a reading that holds."""
    read = {r.point_id for r in card.holding}
    return [p.label for p in card.points if p.id not in read]


def unanswered(card: Card) -> list[str]:
    """Return the codes that nobody has confirmed: of the list, or after the readings.

    Where both have been begun, it is enough that the list was answered.
    """
    answered = {c.code for c in card.confirmations}
    wanted = [*card.before, *card.after]
    left = [code for code in wanted if code not in answered]
    if card.scopes is None or (wanted and not left):
        return left
    return list(card.scopes.open_after)


def is_complete(card: Card) -> bool:
    """Whether nothing but signatures is missing on the card."""
    return not unread_points(card) and not unanswered(card)
