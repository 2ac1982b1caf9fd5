"""Lists of deficiencies and cards across rounds: searched, paged, in few queries."""

import pytest

from models.services.turnover.list_cards import list_cards
from models.services.turnover.list_deficiencies import list_deficiencies
from tests.models.services.turnover.test_list_rounds import statements
from tests.scenario import CR, IR, LEAD, STRANGER, TECHNICIAN, VI, Work


@pytest.fixture
def troubled(complete: Work) -> Work:
    """Cards in every state but begun, one open and one closed deficiency."""
    work = complete
    work.give_back("breaker 52", VI)
    work.withdraw("breaker 52", VI)
    work.give_back("bus", IR)
    work.give_back("breaker 52", CR)
    card = work.card("bus", IR)
    closed = work.entry(
        card, "deficiency", text="dust", holder="erector", severity="may_follow"
    )
    work.store(
        closed,
        work.entry(card, "close_deficiency", text="swept", deficiency_id=closed["key"]),
        work.entry(
            card, "deficiency", text="bolt", holder="maker", severity="stops_turnover"
        ),
    )
    return work


SEARCHES = {
    "nothing": ("", "", ["bolt", "dust"]),
    "open ones": ("", "open", ["bolt"]),
    "closed ones": ("", "closed", ["dust"]),
    "a number": ("d-001", "", ["dust"]),
    "a holder": ("MAKER", "", ["bolt"]),
    "an apparatus": ("bus", "", ["bolt", "dust"]),
    "another apparatus": ("relay", "", []),
    "who raised it": (TECHNICIAN.name, "", ["bolt", "dust"]),
    "a letter that searching knows": ("%", "", []),
    "a number that no column holds": ("99999999999999999999", "", []),
}


def test_deficiencies_are_found(troubled: Work) -> None:
    session = troubled.session
    for case, (words, state, texts) in SEARCHES.items():
        found = list_deficiencies(session, person_id=LEAD.id, words=words, state=state)
        assert [row.text for row in found.rows] == texts, case
        assert found.total == len(texts), case
    assert list_deficiencies(session, person_id=STRANGER.id).total == 0


def test_states_of_cards_are_those_of_the_record(troubled: Work) -> None:
    session, work = troubled.session, troubled
    found = {row.id: row for row in list_cards(session, person_id=LEAD.id).rows}
    for card in work.cards.values():
        facts = work.facts(card.apparatus.label, card.procedure)
        assert found[card.id].state == facts.state, facts.state
    states = {row.state for row in found.values()}
    assert {"withdrawn", "returned", "signed"} <= states
    for state in states:
        part = list_cards(session, person_id=LEAD.id, state=state)
        assert part.total == sum(row.state == state for row in found.values())
    assert list_cards(session, person_id=STRANGER.id).total == 0


def test_cards_before_the_first_signature(confirmed: Work) -> None:
    confirmed.read("bus", IR, "9.0")
    found = {
        row.id: row for row in list_cards(confirmed.session, person_id=LEAD.id).rows
    }
    for card in confirmed.cards.values():
        facts = confirmed.facts(card.apparatus.label, card.procedure)
        assert found[card.id].state == facts.state


def test_cards_are_found_by_apparatus_procedure_and_person(troubled: Work) -> None:
    session = troubled.session
    whole = list_cards(session, person_id=LEAD.id)
    bus = list_cards(session, person_id=LEAD.id, words="bus")
    assert 0 < bus.total < whole.total
    signed = list_cards(session, person_id=LEAD.id, words=TECHNICIAN.name)
    assert signed.total > 0
    assert list_cards(session, person_id=LEAD.id, words="insulation").total > 0
    assert list_cards(session, person_id=LEAD.id, words="elephant").rows == []
    parts = [list_cards(session, person_id=LEAD.id, page=n, size=3) for n in (1, 2, 3)]
    assert [r.id for part in parts for r in part.rows] == [r.id for r in whole.rows]


def test_queries_do_not_grow(troubled: Work) -> None:
    """Four for who asks (with roles, the day and assignments), a count, the rows."""
    for listed in (list_cards, list_deficiencies):
        for size in (1, 25):
            troubled.session.expire_all()
            with statements(troubled.session) as sent:
                listed(troubled.session, person_id=LEAD.id, size=size)
            assert len(sent) == 6, sent
