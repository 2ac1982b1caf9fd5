"""Which acts a round is given: those it rests on, and none of another lineup."""

from typing import Any
from uuid import uuid4

import pytest

from models.schema import Lineup, Round
from models.services.safety.load_acts import acts_in_force, acts_of_round
from models.services.safety.round_safety import safety_of_round
from tests.models.services.safety.acting import Act, Acting
from tests.scenario import SITE, Work, fixed_id


@pytest.fixture
def acting(opened: Work) -> Acting:
    return Acting(opened)


def later(acting: Acting, *acts: Act, **duration: float) -> list[Act]:
    """Keep acts after a while, and return them."""
    acting.work.tick(**duration)
    made = [one | {"at": acting.work.at.isoformat()} for one in acts]
    acting.keep(*made)
    return made


def keys(acts: list[Act]) -> set[str]:
    return {one["key"] for one in acts}


def loaded(acting: Acting, load: Any, *more: Any) -> set[str]:
    round_ = acting.work.session.get_one(Round, acting.work.round_id)
    return {str(one.id) for one in load(acting.work.session, round_, *more)}


def test_a_crew_that_ended_is_whole_while_its_clearance_stands(acting: Acting) -> None:
    first = later(acting, acting.open_crew())
    cleared = later(acting, acting.open_isolation())
    ended = later(acting, acting.act("end_crew", crew=acting.crew), hours=8)
    acting.work.tick(days=5)
    now = acting.work.at
    assert loaded(acting, acts_in_force, now) == keys(first + cleared + ended)
    back = later(
        acting,
        acting.act(
            "hand_back", isolation=acting.isolation, cells=None, to="control room"
        ),
    )
    everything = keys(first + cleared + ended + back)
    assert loaded(acting, acts_in_force, acting.work.at) == everything
    acting.work.tick(days=2)
    assert loaded(acting, acts_in_force, acting.work.at) == set()
    assert loaded(acting, acts_of_round) == everything
    round_ = acting.work.session.get_one(Round, acting.work.round_id)
    found = safety_of_round(acting.work.session, round_, now=acting.work.at)
    site: Any = found.safety.site(found.at)
    assert [one["state"] for one in site["crews"]] == ["ended"]
    assert [one["state"] for one in site["isolations"]] == ["ended"]


def test_a_stop_that_nobody_released_is_always_there(acting: Acting) -> None:
    stop = later(acting, acting.act("stop", stop=str(uuid4())))
    acting.work.tick(days=400)
    assert loaded(acting, acts_in_force, acting.work.at) == keys(stop)


def test_another_lineup_s_acts_are_not_this_round_s(acting: Acting) -> None:
    session = acting.work.session
    own = session.get_one(
        Lineup, acting.work.session.get_one(Round, acting.work.round_id).lineup_id
    )
    other = Lineup(
        id=uuid4(),
        site_id=fixed_id(SITE),
        name="MV-2",
        gear=own.gear,
        rated_kv=own.rated_kv,
    )
    session.add(other)
    session.flush()
    crew = later(acting, acting.open_crew(lineups=[str(other.id)]))
    later(acting, acting.open_isolation(lineup=str(other.id)))
    assert loaded(acting, acts_in_force, acting.work.at) == keys(crew)
    assert loaded(acting, acts_of_round) == keys(crew)


def test_once_turned_over_what_comes_later_is_left_out(acting: Acting) -> None:
    before = later(acting, acting.open_crew(), acting.open_isolation())
    session = acting.work.session
    session.get_one(Round, acting.work.round_id).state = "approved"
    session.flush()
    later(acting, acting.act("end_crew", crew=acting.crew))
    assert loaded(acting, acts_of_round) == keys(before)
