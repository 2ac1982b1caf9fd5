"""Laws of safety: what holds whatever the acts are."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.record.safety import person_key
from tests.data.made_up_acts import made_up_safety
from tests.data.safety_book import BOOK
from tests.data.safety_scene import answer, safety_of

pytestmark = pytest.mark.property
CLOSED = ("open", "lapsed")

FEW = settings(max_examples=30)
seeds = st.integers(0, 10**9)


def scene_of(seed: int) -> dict[str, Any]:
    (scene,) = made_up_safety(seed, 1)
    return scene


def questions(scene: dict[str, Any]) -> list[dict[str, Any]]:
    return [ask for ask in scene["asks"] if "check" not in ask]


@FEW
@given(seed=seeds, shuffled=st.randoms(use_true_random=False))
def test_acts_in_any_order_of_arrival_give_the_same_standing(
    seed: int, shuffled: Any
) -> None:
    scene = scene_of(seed)
    other = {**scene, "acts": shuffled.sample(scene["acts"], len(scene["acts"]))}
    one, two = safety_of(scene), safety_of(other)
    for ask in questions(scene):
        assert answer(one, ask) == answer(two, ask)


@FEW
@given(seed=seeds)
def test_an_earlier_moment_asked_later_has_the_same_answer(seed: int) -> None:
    scene = scene_of(seed)
    safety = safety_of(scene)
    asks = sorted(questions(scene), key=lambda ask: ask["at"])
    forwards = [answer(safety, ask) for ask in asks]
    backwards = [answer(safety, ask) for ask in reversed(asks)]
    assert backwards[::-1] == forwards


@FEW
@given(seed=seeds)
def test_what_comes_later_does_not_change_what_stood(seed: int) -> None:
    scene = scene_of(seed)
    for ask in questions(scene):
        until = [act for act in scene["acts"] if _before(act["at"], ask["at"])]
        readings = {
            card: [one for one in rows if _before(one["at"], ask["at"])]
            for card, rows in scene["readings"].items()
        }
        then = safety_of({**scene, "acts": until, "readings": readings})
        assert answer(then, ask) == answer(safety_of(scene), ask)


def _before(one: str, other: str) -> bool:
    return one[:19] < other[:19] or one == other


@FEW
@given(seed=seeds)
def test_a_scope_that_stands_has_no_line_that_is_open_or_lapsed(seed: int) -> None:
    scene = scene_of(seed)
    safety = safety_of(scene)
    for ask in questions(scene):
        for scope in _scopes(answer(safety, ask)):
            if scope["state"] == "stands":
                open_lines = {
                    one["code"] for one in scope["lines"] if one["state"] in CLOSED
                }
                # Others than the two who are needed may have lines of their own open.
                assert open_lines <= {"G01b", "G03b", "G04c"}


@FEW
@given(seed=seeds)
def test_a_card_is_open_only_while_nothing_is_open(seed: int) -> None:
    scene = scene_of(seed)
    safety = safety_of(scene)
    for ask in questions(scene):
        if "card" in ask:
            found = safety.card(ask["card"], ask["person"], ask["at"], ask["choice"])
            rests_on = BOOK["cards"][ask["card"]]["rests_on"]
            stands = all(found[one]["state"] == "stands" for one in [*rests_on, "test"])
            assert found["open"] == (found["reasons"] == [])
            assert not found["open"] or stands


@FEW
@given(seed=seeds)
def test_a_line_of_after_is_never_closed(seed: int) -> None:
    """What is asked after the readings may be given, whatever lapsed or stopped."""
    scene = scene_of(seed)
    safety = safety_of(scene)
    for ask in questions(scene):
        if "card" in ask:
            found = safety.card(ask["card"], ask["person"], ask["at"], ask["choice"])
            codes = [one["code"] for one in found["after"]["lines"]]
            for code in codes:
                faults = safety.check(_after(ask, code), ask["at"])
                assert {one["code"] for one in faults} <= {"dc_not_off", "discharging"}


def _after(ask: dict[str, Any], code: str) -> dict[str, Any]:
    who = {"id": ask["person"], "name": ask["person"]}
    return {
        "act": "line",
        "by": who,
        "scope": "after",
        "of": ask["card"],
        "code": code,
        "item": None,
        "state": "confirmed",
        "reason": None,
        "noted": {},
    }


@FEW
@given(seed=seeds)
def test_readings_are_outside_where_the_card_was_closed_just_before(seed: int) -> None:
    scene = scene_of(seed)
    safety = safety_of(scene)
    for card, rows in scene["readings"].items():
        outside = {one["reading"]: one["reasons"] for one in safety.outside(card)}
        for index, row in enumerate(rows):
            earlier = {
                other: [one for one in all_rows if one["at"] < row["at"]]
                for other, all_rows in scene["readings"].items()
            }
            if row in rows[:index] or _at_one_moment(scene, row):
                continue
            then = safety_of({**scene, "readings": earlier, "found_good": {}})
            by = row["by"] if isinstance(row["by"], str) else person_key(row["by"])
            reasons = then.reasons(card, by, row["at"], row["choice"])
            if "insulation_first" not in str((reasons, outside.get(index))):
                assert outside.get(index, []) == reasons


def _at_one_moment(scene: dict[str, Any], row: dict[str, Any]) -> bool:
    rows = [one for all_rows in scene["readings"].values() for one in all_rows]
    signed = [at for at in scene["signed"].values() if at == row["at"]]
    return len([one for one in rows if one["at"] == row["at"]]) > 1 or bool(signed)


def _scopes(found: dict[str, Any]) -> list[dict[str, Any]]:
    if "crews" in found:
        return [*found["crews"], *found["isolations"], *found["points"].values()]
    return [found[one] for one in ("crew", "isolation", "point", "test", "after")]
