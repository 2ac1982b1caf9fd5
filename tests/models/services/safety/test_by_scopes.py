"""A round that goes by its scopes: what closes a card, what is kept, what is signed."""

from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import event

from models.errors import InputError
from models.schema import Round
from models.services.field.round_document import round_document
from models.services.field.sign_cards import sign_cards, what_is_missing
from models.services.keeping.check_record import check_record
from models.services.safety.document import safety_news
from models.services.safety.load_acts import acts_in_force, acts_of_round
from tests.models.services.safety.acting import CELL
from tests.scenario import CR, DW, IR, PASSWORD, SECOND, TECHNICIAN, WITHIN, Work
from tests.shift import Shift

BREAKER = ("breaker 52", CR)


@pytest.fixture
def shift(opened: Work) -> Shift:
    return Shift(opened)


@pytest.fixture
def ready(shift: Shift) -> Shift:
    """The contact card of the breaker is open for readings."""
    shift.open()
    shift.before(*BREAKER)
    return shift


def cursor(work: Work) -> int:
    asked: dict[str, Any] = {"person_id": TECHNICIAN.id, "round_id": work.round_id}
    found: int = safety_news(work.session, **asked, since=0, now=work.at)["cursor"]
    return found


def said(answer: dict[str, Any]) -> str:
    return " ".join(one["message"] for one in answer["faults"])


def outside(work: Work, label: str, procedure: str) -> list[str]:
    """Return the first reason of each reading that was taken while it was closed."""
    facts = work.facts(label, procedure)
    assert facts.scopes is not None
    return [
        reasons[0]["code"]
        for one in facts.readings
        if (reasons := facts.scopes.outside(one.id))
    ]


def a_reading(work: Work, **fields: Any) -> dict[str, Any]:
    card = work.card(*BREAKER)
    taken = {one.point_id for one in work.facts(*BREAKER).current}
    point = next(one for one in card.points if one.id not in taken)
    return work.reading(card, point, "38.6", **fields)


def test_a_card_from_nothing_to_its_signature(shift: Shift) -> None:
    work = shift.work
    (answer,) = work.send(a_reading(work))
    assert answer["status"] == "refused"
    assert "crew" in said(answer)
    assert work.facts(*BREAKER).state == "not_begun"
    shift.open()
    (answer,) = work.send(a_reading(work))
    assert {one["field"] for one in answer["faults"]} == {"safety"}
    shift.before(*BREAKER)
    assert work.facts(*BREAKER).state == "begun"
    work.read(*BREAKER, *WITHIN[CR])
    assert "P01a" in what_is_missing(work.facts(*BREAKER))[0].message
    with pytest.raises(InputError, match="still to confirm"):
        sign_cards(
            work.session,
            person_id=TECHNICIAN.id,
            round_id=work.round_id,
            card_ids=[work.card(*BREAKER).id],
            password=PASSWORD,
            now=work.at,
        )
    shift.after(*BREAKER)
    work.sign(BREAKER)
    (signature,) = work.facts(*BREAKER).signatures
    assert "stood, by all acts of safety that had arrived" in signature.statement
    assert f"confirmed by {TECHNICIAN.name}" in signature.statement
    assert outside(work, *BREAKER) == []
    assert check_record(work.session).faults == []


def test_after_a_retest_it_is_asked_again(ready: Shift) -> None:
    work = ready.work
    first, *_ = work.read(*BREAKER, *WITHIN[CR])
    ready.after(*BREAKER)
    assert what_is_missing(work.facts(*BREAKER)) == []
    ready.before(*BREAKER)  # what making it safe has lapsed
    work.again(*BREAKER, first, "38.7")
    assert "P01a" in what_is_missing(work.facts(*BREAKER))[0].message
    ready.after(*BREAKER)
    assert what_is_missing(work.facts(*BREAKER)) == []


def test_a_stop_elsewhere_keeps_a_reading_and_lists_it(ready: Shift) -> None:
    """By what the tablet knew it was open; by all that is known it was not."""
    work = ready.work
    heard = cursor(work)
    stop = ready.act("stop", stop=str(uuid4()))
    ready.store(stop, by=SECOND, device="tablet 2")
    work.tick(minutes=1)
    reading = a_reading(work, heard_at=heard)
    work.tick(minutes=5)
    work.store(reading)
    assert outside(work, *BREAKER) == ["stopped"]
    (answer,) = work.send(a_reading(work, heard_at=heard + 1))
    assert answer["status"] == "refused"
    assert "stopped" in said(answer).lower()
    (answer,) = work.send(a_reading(work))  # it says nothing: it knew all
    assert answer["status"] == "refused"
    statements = [
        one["statement"] for one in work.send(reading)[0]["card"]["performers"]
    ]
    assert "Not each of them was taken while the safety scopes" in statements[0]


def test_what_the_tablet_itself_closed_it_knew(ready: Shift) -> None:
    work = ready.work
    heard = cursor(work)
    ready.store(ready.act("leave", cell=CELL))
    work.tick(minutes=1)
    (answer,) = work.send(a_reading(work, heard_at=heard))
    assert answer["status"] == "refused"


def test_an_act_and_the_reading_after_it_may_come_in_one_call(ready: Shift) -> None:
    work = ready.work
    ready.store(ready.act("leave", cell=CELL))
    work.tick(minutes=1)
    (refused,) = work.send(a_reading(work))
    assert "left" in said(refused).lower()
    first = a_reading(work)
    lapsed = ready.act("stop", stop=str(uuid4()), at=work.tick().isoformat())
    second = ready.line("test", str(work.card(*BREAKER).id), "T2")
    answers = ready.send(lapsed, second | {"at": work.tick().isoformat()}, first)
    assert [one["status"] for one in answers] == ["stored", "refused", "refused"]


def test_a_withstand_waits_for_its_insulation(shift: Shift) -> None:
    work = shift.work
    shift.open()

    def reasons() -> list[str]:
        found = shift.card_standing("bus", DW, "ac")["reasons"]
        return [one["code"] for one in found]

    assert "insulation_first" in reasons()
    shift.before("bus", IR)
    *_, last = work.read("bus", IR, *WITHIN[IR][:6])
    shift.after("bus", IR)
    assert reasons() == ["test_open"]
    shift.before("bus", IR)
    work.again("bus", IR, last, "0.1")
    shift.after("bus", IR)
    assert "insulation_first" in reasons()
    point = work.card("bus", DW).points[0]
    (answer,) = work.send(work.reading(work.card("bus", DW), point, "held"))
    assert "insulation resistance, bus" in said(answer)


def test_the_earlier_list_is_refused_on_a_round_by_scopes(shift: Shift) -> None:
    work = shift.work
    entry = work.entry(work.card(*BREAKER), "confirm", code="G01", state="confirmed")
    (answer,) = work.send(entry)
    assert answer["status"] == "conflict"
    assert work.facts(*BREAKER).listed == []


def test_a_round_by_the_earlier_list_stays_as_it_was(earlier: Work) -> None:
    earlier.confirm_earlier(*BREAKER)
    earlier.store(a_reading(earlier))
    facts = earlier.facts(*BREAKER)
    assert facts.scopes is None
    (performer,) = earlier.send(a_reading(earlier))[0]["card"]["performers"]
    assert "The preconditions were confirmed before each" in performer["statement"]


def test_its_card_may_go_by_the_scopes_where_the_list_is_open(earlier: Work) -> None:
    """As on a tablet that shows the list no more."""
    shift = Shift(earlier)
    (answer,) = earlier.send(a_reading(earlier))
    assert [one["field"] for one in answer["faults"]] == ["preconditions"]
    shift.open()
    (answer,) = earlier.send(a_reading(earlier))
    assert {one["field"] for one in answer["faults"]} == {"preconditions", "safety"}
    shift.before(*BREAKER)
    earlier.read(*BREAKER, *WITHIN[CR])
    shift.after(*BREAKER)
    assert what_is_missing(earlier.facts(*BREAKER)) == []
    assert outside(earlier, *BREAKER) == []


def test_what_a_round_rests_on_is_loaded_in_as_many_queries_as_ever(
    ready: Shift,
) -> None:
    work = ready.work
    session = work.session
    round_ = session.get_one(Round, work.round_id)
    lineup = round_.lineup
    assert lineup.site is not None
    asked: list[str] = []

    def count(_c: Any, _cur: Any, statement: str, *_: Any) -> None:
        asked.append(statement)

    def load() -> tuple[int, int]:
        asked.clear()
        found = len(acts_of_round(session, round_))
        assert len(acts_in_force(session, round_, work.at)) == found
        return len(asked), found

    bind = session.get_bind()
    event.listen(bind, "before_cursor_execute", count)
    queries, first = load()
    ready.keep(*(ready.line("crew", ready.crew, "G03a") for _ in range(60)))
    assert load() == (queries, first + 60)
    event.remove(bind, "before_cursor_execute", count)
    assert queries <= 9


def test_the_document_has_book_and_acts(ready: Shift) -> None:
    work = ready.work
    document = round_document(
        work.session, person_id=TECHNICIAN.id, round_id=work.round_id, now=work.at
    )
    assert document["round"]["earlier_list"] is False
    safety = document["safety"]
    card = str(work.card(*BREAKER).id)
    asked = next(iter(safety["book"]["cards"][card]["lists"].values()))
    assert set(asked["before"]) <= safety["book"]["lines"].keys()
    assert len(safety["acts"]) == safety["cursor"] == cursor(work)
    assert {one["preconditions"] == [] for one in document["cards"]} == {True}
    work.tick(days=4)
    later = round_document(
        work.session, person_id=TECHNICIAN.id, round_id=work.round_id, now=work.at
    )
    assert len(later["safety"]["acts"]) == len(safety["acts"])  # the clearance stands
