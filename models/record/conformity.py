"""Whether a round conforms: one of four words, and what each rests on."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from models.record.card import card_state, is_withdrawn
from models.record.findings import (
    AGAINST,
    DEVIATION,
    LACKING,
    OUTSIDE_LET_STAND,
    Finding,
    findings,
)
from models.record.values import Card
from models.record.verdicts import count_verdicts

CONFORMS = "conforms"
WITH_DEVIATIONS = "conforms_with_deviations"
DOES_NOT = "does_not_conform"
NOT_COMPLETE = "not_complete"

WORDS = {
    CONFORMS: "CONFORMS",
    WITH_DEVIATIONS: "CONFORMS WITH DEVIATIONS",
    DOES_NOT: "DOES NOT CONFORM",
    NOT_COMPLETE: "NOT COMPLETE",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Conformity:
    """What may be said of a round, why, and the deviations it conforms with."""

    word: str  # a key of WORDS
    reasons: list[str]  # sentences
    deviations: list[Finding]


def conformity(
    cards: Sequence[Card],
    outside_let_stand: str = OUTSIDE_LET_STAND[0],
    left_out: int = 0,
) -> Conformity:
    """Return what may be said of a round with these cards.

    What stands against it goes before what it lacks: a round with an outside
    reading does not conform however much of it is still to be tested. *left_out*
    counts the programme's cards that the plan left out: a round without them
    conforms, if it does, with that deviation from its programme.
    """
    found = [f for card in cards for f in findings(card, outside_let_stand)]
    against = _against([f for f in found if f.effect == AGAINST])
    lacking = _lacking(cards, [f for f in found if f.effect == LACKING])
    deviations = [f for f in found if f.effect == DEVIATION]
    return Conformity(
        word=_word(against, lacking, deviates=bool(deviations or left_out)),
        reasons=[
            *([*against, *lacking] or _for(cards, deviations)),
            *_left_out(left_out),
        ],
        deviations=deviations,
    )


def _word(against: list[str], lacking: list[str], *, deviates: bool) -> str:
    if against:
        return DOES_NOT
    if lacking:
        return NOT_COMPLETE
    return WITH_DEVIATIONS if deviates else CONFORMS


def _left_out(number: int) -> list[str]:
    if not number:
        return []
    count = _said(number, "card of the programme was", "cards of the programme were")
    return [f"{count} left out when the round was planned, listed with the reasons."]


def _against(found: list[Finding]) -> list[str]:
    """Return the sentences for what stands against conformity."""
    said = []
    readings = [f for f in found if f.kind == "reading"]
    outside = [f for f in readings if f.verdict == "outside"]
    fallen = Counter(f.verdict for f in readings)
    if outside:
        stand = sum(f.agreed_by is not None for f in outside)
        let = f", {stand} let stand" if stand else ""
        count = _said(len(outside), "reading is", "readings are")
        said.append(f"{count} outside{let}.")
    if fallen["marginal"]:
        said.append(
            f"{_said(fallen['marginal'], 'reading is', 'readings are')} marginal, "
            "without a disposition that lets it stand."
        )
    if fallen["unjudged"]:
        count = _said(fallen["unjudged"], "reading is", "readings are")
        said.append(f"{count} unjudged: unknown is never a pass.")
    stopping = len(found) - len(readings)
    if stopping:
        count = _said(stopping, "open deficiency stops", "open deficiencies stop")
        said.append(f"{count} turnover.")
    return said


def _lacking(cards: Sequence[Card], found: list[Finding]) -> list[str]:
    """Return the sentences for what the round lacks to be complete."""
    said = []
    standing = [card for card in cards if not is_withdrawn(card)]
    if not any(card.holding for card in standing):
        said.append("Nothing was tested.")
    states = Counter(_progress(card) for card in standing)
    for progress, one, many in (
        ("untested", "card has", "cards have"),
        ("unfinished", "card is", "cards are"),
    ):
        if states[progress]:
            count = _said(states[progress], one, many)
            said.append(f"{count} {_PROGRESS[progress]}.")
    if found:
        count = _said(len(found), "withdrawn card waits", "withdrawn cards wait")
        said.append(f"{count} for a second person's agreement.")
    return said


_PROGRESS = {"untested": "no readings", "unfinished": "not signed as performed"}


def _progress(card: Card) -> str:
    """Return whether a standing card is done, unfinished or untested."""
    if card_state(card) == "signed":
        return "done"
    if card.holding:
        return "unfinished"
    return "untested" if card.required else "done"


def _for(cards: Sequence[Card], deviations: list[Finding]) -> list[str]:
    """Return the sentences for a round that conforms."""
    counts = count_verdicts(r.verdict for card in cards for r in card.holding)
    readings = sum(counts.values())
    said = [f"Within: {counts['within']} of {_said(readings, 'reading', 'readings')}."]
    if counts["marginal"]:
        count = _said(counts["marginal"], "reading is", "readings are")
        said.append(f"{count} marginal, with a disposition that lets it stand.")
    said.append(_outside(counts))
    said.append("No open deficiency stops turnover.")
    withdrawn = sum(is_withdrawn(card) for card in cards)
    if withdrawn:
        standing = _said(len(cards) - withdrawn, "card is", "cards are")
        said.append(
            f"{standing} signed as performed; {withdrawn} withdrawn, listed below."
        )
    else:
        said.append("Every card is signed as performed.")
    return said


def _outside(counts: dict[str, int]) -> str:
    if not counts["outside"]:
        return "No reading is outside or unjudged."
    count = _said(counts["outside"], "reading is", "readings are")
    return f"{count} outside, agreed to as a deviation; none is unjudged."


def _said(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
