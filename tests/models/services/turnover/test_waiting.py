"""What waits for each person, counted over all rounds."""

from models.services.turnover.waiting import what_waits
from tests.models.services.turnover.test_inspections import set_point
from tests.scenario import CR, IR, LEAD, OWNER, STRANGER, TECHNICIAN, Cast, Work


def waits(work: Work, who: Cast) -> dict[str, int]:
    found = what_waits(work.session, person_id=who.id)
    return {one.kind: one.count for one in found}


def test_it_is_counted_until_it_is_settled(confirmed: Work) -> None:
    assert waits(confirmed, LEAD) == waits(confirmed, OWNER) == {}
    bad, _, _ = confirmed.read("breaker 52", CR, "90", "39.4", "40.2")
    confirmed.store(
        confirmed.entry(
            confirmed.card("bus", IR),
            "deficiency",
            text="dust",
            holder="x",
            severity="stops_turnover",
        )
    )
    assert waits(confirmed, LEAD) == {"readings": 1, "deficiencies": 1}
    assert waits(confirmed, TECHNICIAN) == {}
    decision = confirmed.dispose(bad, agreed=False)
    set_point(confirmed, "witness")
    assert waits(confirmed, LEAD) == {"deficiencies": 1}
    assert waits(confirmed, OWNER) == {"agreements": 1, "inspections": 1}
    confirmed.answer(decision)
    assert waits(confirmed, OWNER) == {"inspections": 1}
    assert waits(confirmed, STRANGER) == {}


def test_an_assigned_card_waits_until_it_is_signed(complete: Work) -> None:
    card = complete.card("bus", IR)
    card.assigned_to_id = TECHNICIAN.id
    complete.session.flush()
    assert waits(complete, TECHNICIAN) == {}
    complete.give_back("breaker 52", CR)
    assert waits(complete, TECHNICIAN) == {}
    complete.give_back("bus", IR)
    assert waits(complete, TECHNICIAN) == {"cards": 1}


def test_a_package_waits_for_the_owner(complete: Work) -> None:
    complete.seal(TECHNICIAN, "performed")
    complete.seal(LEAD, "approved")
    assert waits(complete, LEAD) == {"approved": 1}
    assert waits(complete, OWNER) == {"to accept": 1}
