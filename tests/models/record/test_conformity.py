"""What may be said of a round: each case of a table, then laws."""

from datetime import UTC, datetime, timedelta
from itertools import product
from typing import Any
from uuid import UUID

import pytest

from models.record.conformity import conformity
from models.record.values import (
    Answer,
    Card,
    Closing,
    Decision,
    Deficiency,
    Point,
    Reading,
    Signature,
    Withdrawal,
)

AT = datetime(2026, 3, 4, 10, tzinfo=UTC)
A, B = UUID(int=1), UUID(int=2)
AGREED = Answer(answer="agreed", reason=None, by="Noor", at=AT)
REFUSED = Answer(answer="refused", reason="test it", by="Noor", at=AT)
C, D, N, X = "conforms", "conforms_with_deviations", "not_complete", "does_not_conform"


def decision(word: str, answer: Answer | None = None) -> Decision:
    return Decision(
        decision=word, reason="dry by noon", by="Otto", at=AT, answer=answer
    )


def reading(verdict: str = "within", made: Decision | None = None) -> Reading:
    return Reading(
        id=UUID(int=7),
        point_id=A,
        point="A-G",
        said="9.0 GΩ",
        by_id=A,
        by="Wren",
        taken_at=AT,
        verdict=verdict,
        decision=made,
    )


def card(*readings: Reading, signed: bool = True, **more: Any) -> Card:
    signature = Signature(by_id=A, by="Wren", at=AT + timedelta(hours=1))
    common: dict[str, Any] = {
        "id": UUID(int=9),
        "cell_id": UUID(int=10),
        "where": "Cell 1 · bus · insulation resistance",
        "title": "Insulation resistance",
        "points": (Point(id=A, label="A-G"),),
        "before": ("G1",),
        "after": (),
        "readings": readings,
        "signatures": (signature,) if signed else (),
    }
    return Card(**(common | more))


def withdrawn(answer: Answer | None, **more: Any) -> Card:
    left_out = Withdrawal(reason="at the works", by="Otto", at=AT, answer=answer)
    return card(signed=False, withdrawal=left_out, **more)


def deficiency(severity: str, *, closed: bool = False) -> Deficiency:
    closing = Closing(text="cleaned", by="Wren", at=AT) if closed else None
    return Deficiency(
        number=1,
        text="dust",
        severity=severity,
        holder="installer",
        by="Wren",
        at=AT,
        closing=closing,
    )


GOOD = card(reading())
CASES: dict[str, tuple[list[Card], str, str]] = {
    "every reading within": ([GOOD], "does_not_conform", C),
    "no card at all": ([], "does_not_conform", N),
    "every card withdrawn, agreed": ([withdrawn(AGREED)], "does_not_conform", N),
    "a card withdrawn, agreed": ([GOOD, withdrawn(AGREED)], "does_not_conform", D),
    "a card withdrawn, not answered": ([GOOD, withdrawn(None)], "does_not_conform", N),
    "a withdrawal refused": ([GOOD, withdrawn(REFUSED)], "does_not_conform", N),
    "an optional card withdrawn": (
        [GOOD, withdrawn(None, required=False)],
        "does_not_conform",
        C,
    ),
    "an optional card without readings": (
        [GOOD, card(signed=False, required=False)],
        "does_not_conform",
        C,
    ),
    "a card without readings": ([GOOD, card(signed=False)], "does_not_conform", N),
    "a card not signed": ([card(reading(), signed=False)], "does_not_conform", N),
    "handed back": ([card(reading(), returned=AT + timedelta(days=1))], "", N),
    "marginal": ([card(reading("marginal"))], "does_not_conform", X),
    "marginal, accepted": (
        [card(reading("marginal", decision("use_as_is")))],
        "does_not_conform",
        D,
    ),
    "marginal, rejected": (
        [card(reading("marginal", decision("reject")))],
        "deviation",
        X,
    ),
    "outside": ([card(reading("outside"))], "deviation", X),
    "outside, let stand, agreed, by default": (
        [card(reading("outside", decision("use_as_is", AGREED)))],
        "does_not_conform",
        X,
    ),
    "outside, let stand, agreed, where the project says so": (
        [card(reading("outside", decision("use_as_is", AGREED)))],
        "deviation",
        D,
    ),
    "outside, let stand by one person alone": (
        [card(reading("outside", decision("use_as_is")))],
        "deviation",
        X,
    ),
    "unjudged, let stand, agreed": (
        [card(reading("unjudged", decision("use_as_is", AGREED)))],
        "deviation",
        X,
    ),
    "outside goes before incomplete": (
        [card(reading("outside")), card(signed=False)],
        "deviation",
        X,
    ),
    "outside on a withdrawn card": (
        [GOOD, withdrawn(AGREED, readings=(reading("outside"),))],
        "deviation",
        X,
    ),
    "stops turnover": (
        [card(reading(), deficiencies=(deficiency("stops_turnover"),))],
        "deviation",
        X,
    ),
    "stops turnover, closed": (
        [card(reading(), deficiencies=(deficiency("stops_turnover", closed=True),))],
        "deviation",
        C,
    ),
    "may follow": (
        [card(reading(), deficiencies=(deficiency("may_follow"),))],
        "does_not_conform",
        D,
    ),
}


@pytest.mark.parametrize(("cards", "setting", "word"), CASES.values(), ids=CASES)
def test_the_word(cards: list[Card], setting: str, word: str) -> None:
    found = conformity(cards, setting)
    assert found.word == word
    assert found.reasons
    assert bool(found.deviations) >= (word == D)


def test_the_reasons_name_what_stands_in_the_way() -> None:
    cards = [
        card(reading("outside"), reading("outside", decision("use_as_is", AGREED))),
        card(reading("marginal"), reading("unjudged")),
        card(reading(), deficiencies=(deficiency("stops_turnover"),), signed=False),
        card(signed=False),
        withdrawn(None),
    ]
    assert conformity(cards).reasons == [
        "2 readings are outside, 1 let stand.",
        "1 reading is marginal, without a disposition that lets it stand.",
        "1 reading is unjudged: unknown is never a pass.",
        "1 open deficiency stops turnover.",
        "1 card has no readings.",
        "1 card is not signed as performed.",
        "1 withdrawn card waits for a second person's agreement.",
    ]


def test_what_speaks_for_it() -> None:
    cards = [
        card(reading(), reading("marginal", decision("use_as_is"))),
        withdrawn(AGREED),
    ]
    assert conformity(cards).reasons == [
        "Within: 1 of 2 readings.",
        "1 reading is marginal, with a disposition that lets it stand.",
        "No reading is outside or unjudged.",
        "No open deficiency stops turnover.",
        "1 card is signed as performed; 1 withdrawn, listed below.",
    ]


def test_plain_conforms_only_where_everything_was_tested_and_is_within() -> None:
    """Every pair of cards of the table: one that is not plain takes the word away."""
    singles = [cards[0] for cards, _, _ in CASES.values() if len(cards) == 1]
    for one, other in product(singles, singles):
        both = conformity([one, other], "deviation").word
        alone = {conformity([c], "deviation").word for c in (one, other)}
        assert (both == C) == (alone == {C})
