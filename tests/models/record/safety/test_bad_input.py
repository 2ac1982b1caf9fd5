"""What is wrong is refused in a plain sentence; making safe is always taken."""

from typing import Any

import pytest

from models.record.safety import Safety
from models.record.safety.sentences import sentence
from tests.data.safety_book import BOOK, CELL_OF, MARIT, TOBIAS
from tests.data.safety_day import Day, clock

Json = dict[str, Any]


def afternoon() -> Day:
    """Return a day on which cell 1 was tested and its card not made safe."""
    day = Day().morning().when("7:35").lines("test", "vi1", "T2 T5")
    day.when("7:40").read("vi1").when("14:00")
    day.item("set", "crew1", "det", set_kind="detector", name="D-12")
    return day.act("open_return", isolation="iso1", cells=None)


def said(day: Day, act: Json) -> list[str]:
    safety = Safety(BOOK, day.acts, day.readings, {}, CELL_OF)
    return [
        sentence(one, changes={}, name=str, clock=lambda moment: moment[11:16])
        for one in safety.check(act, act["at"])
    ]


def line(scope: str, of: str, code: str, **more: Any) -> Json:
    noted = {"scope": scope, "of": of, "code": code, "item": None, "reason": None}
    return {"act": "line", **noted, "state": "confirmed", "noted": {}, **more}


WAIVED = {"state": "not_applicable", "reason": "none here"}
HAND_BACK = {"isolation": "iso1", "cells": None, "to": "Control room"}
CASES = {
    "a clearance handed back while a card is open": (
        {"act": "hand_back", **HAND_BACK},
        "Not handed back: cards under it were not made safe after their readings: vi1.",
    ),
    "a detector that is not registered": (
        line("point", "cell1", "G10a", noted={"detector": "D-9"}),
        "This detector is not on the crew's register: D-12. Name one of these, or put "
        "it on the register first.",
    ),
    "a detector that is not named": (
        line("point", "cell1", "G10a"),
        "detector: has to be noted with this line.",
    ),
    "does not apply, for a line that life hangs on": (
        line("test", "vi1", "T5", **WAIVED),
        "Life hangs on this line: it cannot be set aside. Do it, then confirm it.",
    ),
    "a line of after before any reading": (
        line("after", "ir2", "P01a"),
        "This is asked after the test: the card has no reading yet.",
    ),
    "a line on a scope that does not stand": (
        line("test", "rs5", "T2"),
        "No clearance covers this cell.",
    ),
}


@pytest.mark.parametrize(("act", "first"), CASES.values(), ids=CASES)
def test_a_plain_sentence(act: Json, first: str) -> None:
    whole = {"id": "x", "at": clock("14:05"), "by": MARIT, **act}
    assert said(afternoon(), whole)[0] == first


def test_a_briefing_that_ended() -> None:
    day = afternoon().act("end_crew", crew="crew1")
    act = {"id": "x", "at": clock("14:05"), "by": TOBIAS}
    assert said(day, {**act, **line("crew", "crew1", "G03b")}) == [
        "This crew ended at 14:00, and its briefing with it: open a new crew."
    ]


def test_a_stop_closes_entry_and_leaves_making_safe_open() -> None:
    day = afternoon().act("stop", stop="stop1")
    act = {"id": "x", "at": clock("14:05"), "by": MARIT}
    assert said(day, {**act, **line("test", "vi1", "T5")}) == [
        "Work on this site was stopped by Marit Osei at 14:00: nothing is entered "
        "until it is released."
    ]
    assert said(day, {**act, **line("after", "vi1", "P01a")}) == []


def test_a_lock_removed_on_one_tablet_while_another_records_without_signal() -> None:
    day = Day().morning().when("7:35").lines("test", "vi1", "T2 T5").when("7:38")
    lock = {"of": "iso1", "item": "iso1-s1", "cause": "taken off"}
    day.act("change", what="lock", **lock).when("7:40").read("vi1")
    safety = Safety(BOOK, day.acts, day.readings, {}, CELL_OF)
    unheard = [act["id"] for act in day.acts if act["act"] != "change"]
    assert safety.card("vi1", "marit", clock("7:39"), known=unheard)["open"]
    (outside,) = safety.outside("vi1")
    codes = [one["code"] for one in outside["reasons"]]
    assert codes == ["isolation_lapsed", "point_left", "asked_again"]


ODD = {
    "a person as text": ("G02a", {"person": "Tobias"}),
    "no person": ("G02a", {}),
    "people as one": ("G25b", {"releasers": TOBIAS}),
    "people as text": ("G25b", {"releasers": ["Tobias"]}),
}


@pytest.mark.parametrize(("code", "noted"), ODD.values(), ids=ODD)
def test_what_was_noted_oddly_is_read_without_harm(code: str, noted: Json) -> None:
    day = Day().when("7:00").crew().line("crew", "crew1", code, **noted)
    safety = Safety(BOOK, day.acts, {}, {}, CELL_OF)
    (crew,) = safety.site(clock("7:01"))["crews"]
    assert crew["state"] == ("lapsed" if code == "G02a" else "stands")
    assert set(crew["releasers"]) <= {"Marit Osei", "Tobias Vane"}
