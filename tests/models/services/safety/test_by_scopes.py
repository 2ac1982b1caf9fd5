"""A round that goes by its scopes: what closes a card, what is kept, what is signed."""

from typing import Any

import pytest

from models.schema import Round
from models.services.field.sign_cards import what_is_missing
from models.services.keeping.check_record import check_record
from tests.scenario import CR, TECHNICIAN, Work
from tests.shift import Shift


@pytest.fixture
def shift(opened: Work) -> Shift:
    opened.session.get_one(Round, opened.round_id).earlier_list = False
    opened.session.flush()
    return Shift(opened)


def messages(answer: dict[str, Any]) -> str:
    return " ".join(one["message"] for one in answer["faults"])


def test_a_card_from_nothing_to_its_signature(shift: Shift) -> None:
    work = shift.work
    card = work.card("breaker 52", CR)
    sent = work.reading(card, card.points[0], "38.6")
    (answer,) = work.send(sent)
    assert answer["status"] == "refused"
    shift.open()
    (answer,) = work.send(sent | {"at": work.at.isoformat()})
    assert answer["status"] == "refused"
    assert [one["field"] for one in answer["faults"]] == ["safety"]
    shift.before("breaker 52", CR)
    assert work.facts("breaker 52", CR).state == "begun"
    work.read("breaker 52", CR, "38.6", "39.4", "40.2")
    missing = what_is_missing(work.facts("breaker 52", CR))
    assert [one.message for one in missing]
    shift.after("breaker 52", CR)
    assert what_is_missing(work.facts("breaker 52", CR)) == []
    work.sign(("breaker 52", CR))
    (signature,) = work.facts("breaker 52", CR).signatures
    assert "stood, by all acts of safety that had arrived" in signature.statement
    assert f"confirmed by {TECHNICIAN.name}" in signature.statement
    assert check_record(work.session).faults == []
