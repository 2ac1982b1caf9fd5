"""Lists of rounds: a page at a time, searched, counted as the cards say."""

from collections.abc import Iterator
from contextlib import contextmanager
from uuid import UUID, uuid4

import pytest
from sqlalchemy import Engine, event, select
from sqlalchemy.orm import Session

from models.record.verdicts import VERDICTS
from models.schema import Deficiency, Round
from models.schema.engine import make_engine
from models.services.owner.list_lineups import list_lineups
from models.services.turnover.list_rounds import list_rounds
from models.services.turnover.round_choices import round_choices
from tests.bench import large
from tests.conftest import DATABASES, Stages
from tests.scenario import CR, IR, LEAD, OWNER, STRANGER, TECHNICIAN, VI, Work


@contextmanager
def statements(session: Session) -> Iterator[list[str]]:
    sent: list[str] = []

    def note(_conn: object, _cursor: object, statement: str, *_rest: object) -> None:
        if statement.startswith("SELECT"):
            sent.append(statement)

    bind = session.get_bind()
    event.listen(bind, "before_cursor_execute", note)
    try:
        yield sent
    finally:
        event.remove(bind, "before_cursor_execute", note)


def test_counts_are_those_of_the_cards(complete: Work) -> None:
    """A retest, a returned, a withdrawn and a marginal one among them."""
    work = complete
    work.give_back("breaker 52", CR)
    first = work.facts("breaker 52", CR).current[0]
    work.again("breaker 52", CR, first.id, "61.7")
    work.give_back("breaker 52", VI)
    work.withdraw("breaker 52", VI)
    card = work.card("bus", IR)
    work.give_back("bus", IR)
    work.store(
        work.entry(card, "deficiency", text="a", holder="x", severity="may_follow")
    )
    (shown,) = list_rounds(work.session, person_id=TECHNICIAN.id).rows
    facts = [work.facts(c.apparatus.label, c.procedure) for c in work.cards.values()]
    states = [one.state for one in facts]
    verdicts = [r.judgement.verdict for one in facts for r in one.current]
    assert states.count("withdrawn") == 1
    assert shown.cards == len(states) - 1
    assert shown.cards_signed == states.count("signed")
    assert shown.mine_open == len(states) - 1 - states.count("signed")
    assert shown.readings == len(verdicts)
    for verdict in VERDICTS:
        assert getattr(shown, verdict) == verdicts.count(verdict), verdict
    assert shown.outside > 0
    assert shown.open_deficiencies == 1


SEARCHES = {
    "nothing": ("", "", 9),
    "a lineup": ("mv-103", "", 3),
    "a lineup's serial": ("sn-7002", "", 3),
    "the site and a lineup": ("{site} mv-101", "", 3),
    "an apparatus": ("breaker", "", 9),
    "who opened it": (LEAD.name.split()[0], "", 9),
    "who signed on it": (TECHNICIAN.name, "", 9),
    "no such word": ("elephant", "", 0),
    "a letter that searching knows": ("%", "", 0),
    "open ones": ("", "open", 1),
    "accepted ones of a lineup": ("mv-102", "accepted", 3),
    "a state that there is not": ("", "lost", 9),
}


@pytest.fixture(scope="module", params=DATABASES)
def filled(request: pytest.FixtureRequest) -> Iterator[Engine]:
    """Three lineups with three rounds each, beside the one that was recorded."""
    stages: Stages = request.getfixturevalue(f"{request.param}_stages")
    engine = make_engine(stages.fresh("accepted"))
    with Session(engine, expire_on_commit=False) as session:
        large.copy(session, rounds=(3, 3, 3))
    yield engine
    engine.dispose()


@pytest.fixture
def many(filled: Engine) -> Iterator[Session]:
    """A session on them that commits nothing."""
    with Session(filled, expire_on_commit=False) as session:
        yield session


def test_what_is_looked_for_is_found(many: Session) -> None:
    recorded = list_rounds(many, person_id=LEAD.id, words="MV-1 ").total
    site = list_rounds(many, person_id=LEAD.id).rows[0].site_name
    for case, (words, state, count) in SEARCHES.items():
        found = list_rounds(
            many, person_id=LEAD.id, words=words.format(site=site), state=state
        )
        of_copies = [r for r in found.rows if r.lineup_name.startswith("MV-10")]
        assert len(of_copies) == count, case
        assert found.total == len(found.rows) == found.open + found.over, case
    assert recorded >= 9
    assert list_rounds(many, person_id=STRANGER.id).total == 0


def test_rounds_are_narrowed_to_a_site_and_to_who_works_on_them(many: Session) -> None:
    choices = round_choices(many, person_id=LEAD.id)
    ((site_id, _),) = choices.sites
    assert list_rounds(many, person_id=LEAD.id, site_id=site_id).total == 10
    assert list_rounds(many, person_id=LEAD.id, site_id=LEAD.id).total == 0
    assert {LEAD.name, TECHNICIAN.name} <= {name for _, name in choices.people}
    for key, name in choices.people:
        by_name = list_rounds(many, person_id=LEAD.id, words=name).total
        assert list_rounds(many, person_id=LEAD.id, worked_by=key).total == by_name
    assert round_choices(many, person_id=STRANGER.id).sites == []


def test_a_round_with_findings_stands_before_a_newer_one(many: Session) -> None:
    older, newer = many.scalars(
        select(Round).where(Round.state == "accepted").order_by(Round.opened_at)
    ).all()[:2]
    older.state = newer.state = "open"
    many.flush()

    def order() -> list[UUID]:
        rows = list_rounds(many, person_id=LEAD.id).rows
        return [row.id for row in rows if row.id in (older.id, newer.id)]

    assert order() == [newer.id, older.id]
    many.add(
        Deficiency(
            id=uuid4(),
            round_id=older.id,
            card_id=older.cards[0].id,
            number=99,
            text="dust",
            severity="may_follow",
            holder="x",
            by_id=LEAD.id,
            at=older.opened_at,
            arrived_at=older.opened_at,
        )
    )
    many.flush()
    assert order() == [older.id, newer.id]


def test_pages_are_parts_of_the_whole(many: Session) -> None:
    whole = list_rounds(many, person_id=LEAD.id)
    parts = [list_rounds(many, person_id=LEAD.id, page=n, size=4) for n in (1, 2, 3, 4)]
    assert [r.id for part in parts for r in part.rows] == [r.id for r in whole.rows]
    assert {(p.total, p.open, p.over, p.last) for p in parts} == {(10, 1, 9, 3)}
    assert (parts[1].first_row, parts[1].last_row) == (5, 8)
    assert parts[3].rows == []
    assert [r.state for r in whole.rows][:2].count("open") == 1


def test_queries_do_not_grow_with_the_rounds(many: Session) -> None:
    for size in (1, 25):
        many.expire_all()
        with statements(many) as sent:
            list_rounds(many, person_id=LEAD.id, size=size)
        assert len(sent) == 7, sent


def test_lineups_are_searched_and_counted(many: Session) -> None:
    everything = list_lineups(many, person_id=OWNER.id)
    assert everything.total == len(everything.rows) == 4
    (one,) = list_lineups(many, person_id=OWNER.id, words="sn-7003").rows
    assert (one.name, one.rounds, one.open_rounds) == ("MV-103", 2, 0)
    assert one.cells == large.BLOCKS
    assert list_lineups(many, person_id=OWNER.id, words="nowhere").rows == []
    (seen,) = list_lineups(many, person_id=LEAD.id, words="mv-103").rows
    assert (seen.open_rounds, seen.baseline_state) == (1, "accepted")
    assert seen.baseline_at == one.baseline_at is not None
