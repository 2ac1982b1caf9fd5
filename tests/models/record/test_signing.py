"""Who signs a card, what they sign for and what they say; each untruth has a case."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from models.record.card import card_state
from models.record.preconditions import confirmed_before, not_confirmed_by
from models.record.signing import performed_statement, performers, signed_for
from models.record.values import Card, Confirmation, Point, Reading, Signature

AT = datetime(2026, 3, 4, 10, tzinfo=UTC)
WREN, IDA = UUID(int=1), UUID(int=2)
NAMES = {WREN: "Wren Tern", IDA: "Ida Plover"}
POINTS = (Point(id=UUID(int=21), label="A-G"), Point(id=UUID(int=22), label="B-G"))


def reading(number: int, by: UUID, minutes: int = 0, **more: object) -> Reading:
    point = POINTS[(number - 1) % 2]
    made = Reading(
        id=UUID(int=100 + number),
        point_id=point.id,
        point=point.label,
        said="9.0 GΩ",
        by_id=by,
        by=NAMES[by],
        taken_at=AT + timedelta(minutes=minutes),
        verdict="within",
    )
    return replace(made, **more)  # type: ignore[arg-type]


def confirmed(by: UUID, code: str, minutes: int = -5) -> Confirmation:
    at = AT + timedelta(minutes=minutes)
    return Confirmation(code=code, by_id=by, by=NAMES[by], at=at)


def signature(by: UUID) -> Signature:
    return Signature(by_id=by, by=NAMES[by], at=AT + timedelta(hours=1))


TWO = Card(
    id=UUID(int=9),
    cell_id=UUID(int=10),
    where="Cell 1 · bus · insulation resistance",
    title="Insulation resistance",
    points=POINTS,
    before=("G1", "I1"),
    after=(),
    confirmations=(confirmed(WREN, "G1"), confirmed(WREN, "I1")),
    readings=(reading(1, WREN), reading(2, IDA)),
)

STATES: dict[str, tuple[Card, str]] = {
    "nobody has signed": (TWO, "begun"),
    "the first of two": (replace(TWO, signatures=(signature(WREN),)), "signing"),
    "both": (replace(TWO, signatures=(signature(WREN), signature(IDA))), "signed"),
    "one, in a round turned over before this rule": (
        replace(TWO, signatures=(signature(WREN),), turned_over=True),
        "signed",
    ),
    "both, then handed back": (
        replace(
            TWO,
            signatures=(signature(WREN), signature(IDA)),
            returned=AT + timedelta(hours=2),
        ),
        "returned",
    ),
}


@pytest.mark.parametrize(("card", "state"), STATES.values(), ids=STATES)
def test_a_card_is_signed_once_everybody_signed_who_took_a_reading(
    card: Card, state: str
) -> None:
    assert card_state(card) == state


def test_the_statement_names_who_confirmed_and_who_took_the_rest() -> None:
    assert performed_statement(TWO, IDA) == (
        "I took the readings that carry my name, as recorded here, with the "
        "instruments and under the conditions stated. The preconditions were "
        "confirmed before each of them, by Wren Tern. Wren Tern took the other "
        "readings and signs for them."
    )


def test_the_statement_does_not_say_what_the_times_deny() -> None:
    late = replace(TWO, confirmations=(confirmed(WREN, "G1"), confirmed(IDA, "I1", 3)))
    said = performed_statement(late, WREN)
    assert "confirmed before each of them, by" not in said
    assert "Not every precondition was confirmed before each of them" in said


def test_each_signs_for_own_readings_and_for_those_they_replaced() -> None:
    first = reading(1, WREN, superseded=True)
    again = reading(3, IDA, 9, supersedes=first.id)
    card = replace(TWO, readings=(first, reading(2, WREN), again))
    assert [p.name for p in performers(card)] == ["Wren Tern", "Ida Plover"]
    assert signed_for(card, IDA) == [first, again]
    assert signed_for(card, WREN) == [reading(2, WREN)]


def test_every_reading_of_a_card_is_signed_for_by_exactly_one() -> None:
    first = reading(1, WREN, superseded=True)
    second = reading(3, IDA, 5, supersedes=first.id, superseded=True)
    third = reading(5, WREN, 9, supersedes=second.id)
    card = replace(TWO, readings=(first, reading(2, IDA), second, third))
    signed = [r.id for p in performers(card) for r in signed_for(card, p.id)]
    assert sorted(signed) == sorted(r.id for r in card.readings)


Answers = tuple[tuple[int, str], ...]  # minutes after the reading, code
LATE: dict[str, tuple[Answers, list[str]]] = {
    "both before": (((-5, "G1"), (-5, "I1")), []),
    "at the same moment": (((0, "G1"), (0, "I1")), []),
    "one only after it": (((-5, "G1"), (1, "I1")), ["I1"]),
    "one never": (((-5, "G1"),), ["I1"]),
    "again after it": (((-5, "G1"), (-5, "I1"), (5, "I1")), []),
}


@pytest.mark.parametrize(("answers", "codes"), LATE.values(), ids=LATE)
def test_what_was_not_confirmed_by_then(answers: Answers, codes: list[str]) -> None:
    made = tuple(confirmed(WREN, code, minutes) for minutes, code in answers)
    card = replace(TWO, confirmations=made)
    assert not_confirmed_by(card, reading(1, WREN)) == codes


def test_a_superseded_reading_counts_and_so_does_its_retest() -> None:
    """The first was taken too early; measuring it again does not undo that."""
    first = reading(1, WREN, -9, superseded=True)
    again = reading(3, WREN, 9, supersedes=first.id)
    found = confirmed_before([replace(TWO, readings=(first, again))], UTC)
    assert [one.reading for one in found.late] == [first]
    assert not found.every


def test_a_retest_on_a_later_day_rests_on_an_earlier_confirmation() -> None:
    again = reading(3, WREN, 60 * 24)
    found = confirmed_before([replace(TWO, readings=(reading(1, WREN), again))], UTC)
    assert found.every
    assert (found.readings, found.earlier_day) == (2, 1)


def test_nothing_is_said_of_a_round_without_readings() -> None:
    assert not confirmed_before([replace(TWO, readings=())], UTC).every
