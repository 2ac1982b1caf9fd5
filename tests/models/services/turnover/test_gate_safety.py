"""The gate and safety: what blocks turnover, and what is only listed."""

from typing import Any
from uuid import UUID, uuid4

import pytest

from models.schema import Round
from models.services.safety.press_stop import press_stop
from models.services.turnover.gate_lines import GateLine
from tests.scenario import CR, IR, LEAD, SECOND, SITE, Work, fixed_id
from tests.shift import Shift

MADE_SAFE = ("breaker 52", CR)


@pytest.fixture
def shift(opened: Work) -> Shift:
    opened.session.get_one(Round, opened.round_id).earlier_list = False
    opened.session.flush()
    found = Shift(opened)
    found.open()
    return found


def still(work: Work) -> dict[str, GateLine]:
    return {line.code: line for line in work.gate().still}


def listed(work: Work) -> dict[str, GateLine]:
    """Return the lines of safety under what is settled or listed."""
    found = work.gate().settled
    return {line.code: line for line in found if line.code.startswith("safety")}


def stop(work: Work) -> UUID:
    return press_stop(
        work.session,
        person_id=SECOND.id,
        site_id=fixed_id(SITE),
        stop_id=uuid4(),
        device="desk",
        now=work.tick(),
    )


def put_back(shift: Shift) -> dict[str, Any]:
    fields = {"put_back_kind": "ct_link", "what": "CT links X1"}
    return shift.act(
        "list", register="put_back", of=shift.isolation, item="b1", fields=fields
    )


def test_a_card_is_not_complete_before_it_is_made_safe(shift: Shift) -> None:
    work = shift.work
    shift.before(*MADE_SAFE)
    work.read(*MADE_SAFE, "38.6", "39.4", "40.2")
    said = {item.detail for item in still(work)["incomplete"].items}
    assert "2 lines after the test still to be given: P01a, CR6" in said
    shift.after(*MADE_SAFE)
    (item,) = still(work)["unsigned"].items
    assert "breaker 52" in item.text


def test_what_is_not_put_back_blocks_until_it_is(shift: Shift) -> None:
    work = shift.work
    shift.store(put_back(shift))
    (item,) = still(work)["safety_put_back"].items
    assert "CT links X1" in item.text
    assert (item.target_kind, item.target_id) == ("safety", work.round_id)
    work.tick()
    shift.store(shift.act("put_back", isolation=shift.isolation, item="b1"))
    assert "safety_put_back" not in still(work)


def test_a_reading_taken_before_the_stop_was_known_is_listed(shift: Shift) -> None:
    """It came from a tablet without signal: kept, listed, and blocking nothing."""
    work = shift.work
    shift.before(*MADE_SAFE)
    cursor = shift.standing.acts[-1]
    assert cursor["act"] == "line"
    known = len(shift.standing.acts)
    stop(work)
    card = work.card(*MADE_SAFE)
    late = work.reading(card, card.points[0], "38.6")
    work.store(late | {"heard_at": known})
    found = listed(work)
    (item,) = found["safety_outside"].items
    assert (item.target_kind, item.target_id) == ("reading", UUID(late["key"]))
    assert "taken after a stop, before it was known here" in item.detail
    assert found["safety"].mark == "open"
    assert [one.detail for one in found["safety_stop"].items] == [
        "Nobody has released it yet"
    ]
    assert not any(code.startswith("safety") for code in still(work))


def test_what_is_not_as_usual_is_listed_with_its_reason(shift: Shift) -> None:
    work = shift.work
    override = {
        "scope": "test",
        "of": str(work.card("bus", IR).id),
        "code": "T7",
        "reason": "the maker gives no limit",
        "names": [LEAD.name, SECOND.name],
    }
    waived = {"state": "not_applicable", "reason": "no capacitor here"}
    shift.store(
        shift.act("override", **override),
        shift.line("isolation", shift.isolation, "G08a", **waived),
    )
    shift.before(*MADE_SAFE)
    work.read(*MADE_SAFE, "38.6")
    found = listed(work)
    assert found["safety"].text == "Scopes of safety stood at every reading"
    (aside,) = found["safety_override"].items
    assert "the maker gives no limit; agreed by Otto Heron, Ida Plover" in aside.detail
    (waived_item,) = found["safety_not_applicable"].items
    assert "no capacitor here" in waived_item.detail
    (held,) = found["safety_clearance"].items
    assert held.text.startswith("Clearance 4711")
    assert held.detail == "1 ground on"


def test_a_round_by_the_earlier_list_says_nothing_of_scopes(earlier: Work) -> None:
    card = earlier.card(*MADE_SAFE)
    earlier.confirm_earlier(*MADE_SAFE)
    earlier.store(earlier.reading(card, card.points[0], "38.6"))
    assert listed(earlier) == {}
    assert "preconditions" in {line.code for line in earlier.gate().settled}
