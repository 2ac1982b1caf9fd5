"""The report of a day that is told act by act, compared with what was told."""

from dataclasses import replace
from typing import Any

import pytest

from models.record.safety_report.outside import WORDS
from models.record.safety_report.report import cards_safety, safety_report
from models.words import catalogue
from tests.data.safety_book import MARIT, PAVEL, TOBIAS
from tests.data.safety_day import Day, clock
from tests.models.record.safety_report.told_day import BOOK, report, same, told, work


@pytest.fixture(scope="module")
def plain() -> dict[str, Any]:
    return report(work(Day().morning()))


def test_a_day_as_usual_has_a_row_of_each_and_no_exception(plain):
    assert plain["exceptions"] == []
    (crew,) = plain["crews"]
    assert crew["shift"] == 1
    assert crew["opened_at"] == clock("7:00")
    assert crew["closed_at"] is None
    assert crew["in_charge"] == "Marit Osei"
    assert crew["people"] == ["Marit Osei", "Tobias Vane"]
    assert crew["releasers"] == ["Marit Osei", "Tobias Vane"]
    (clearance,) = plain["clearances"]
    assert clearance["number"] == "4711"
    assert clearance["section"] == "A"
    assert clearance["holder"] == "Marit Osei"
    assert (clearance["grounds_on"], clearance["grounds_off"]) == (1, 0)
    assert clearance["returned"] is None
    (cell,) = plain["cells"]
    assert (cell["number"], cell["name"]) == ("1", "Incomer")
    assert cell["entered"] == [clock("7:30")]
    assert cell["detectors"] == ["D-12"]


def test_the_sentence_of_the_cards_counts_what_was_said(plain):
    assert plain["cards"] == {
        "cards": 1,
        "before": 4,
        "after": 4,
        "people": 1,
        "readings": 2,
        "outside": 0,
        "after_open": [],
        "in_time": True,
    }


def test_every_act_is_a_statement_and_every_line_is_counted(plain):
    day = work(Day().morning())
    assert [one["id"] for one in plain["statements"]] == [a["id"] for a in day.acts]
    assert plain["lines"] == sum(act["act"] == "line" for act in day.acts)
    t5 = next(one for one in plain["statements"] if one["code"] == "T5")
    assert t5["text"] == BOOK["lines"]["T5"]["text"]
    assert t5["source"] == "made up"
    assert (t5["where"], t5["by"], t5["on"]) == ("card 1", "Marit Osei", "")
    detector = next(one for one in plain["statements"] if one["code"] == "G10a")
    assert detector["said"] == [["detector", "D-12"]]
    assert detector["where"] == "cell 1"


def test_who_says_it_on_another_s_tablet_is_named_with_whose():
    day = Day().morning().says(PAVEL).line("isolation", "iso1", "G04c")
    said = report(day)["statements"][-1]
    assert (said["by"], said["on"], said["item"]) == (
        "Pavel Lind",
        "Marit Osei",
        "Pavel Lind",
    )


def test_an_exception_said_on_another_s_tablet_names_whose():
    day = Day().morning().when("7:50").says(PAVEL)
    day.waive("test", "ir1", "CR2a", "no latch in this position")
    (found,) = report(day)["exceptions"]
    assert found["by"] == "Pavel Lind, on Marit Osei's tablet"


POINTS = {
    "with its source": (
        {"source_kind": "line", "name": "A", "isolating_point": "52-1", "beyond": "x"},
        "52-1 (line A), lock 7",
    ),
    "the source alone": ({"source_kind": "line", "name": "A"}, "line A, lock 7"),
    "nothing but its mark": ({}, "s9, lock 7"),
    "taken off the list": (
        {"isolating_point": "52-1", "gone": True},
        "52-1, lock 7, taken off the list",
    ),
}


@pytest.mark.parametrize(("fields", "said"), POINTS.values(), ids=POINTS)
def test_an_isolating_point_is_said_with_its_source_and_lock(
    fields: dict[str, Any], said: str
) -> None:
    day = Day().morning().when("7:25").item("source", "iso1", "s9", **fields)
    day.line("isolation", "iso1", "G07a", "s9", lock="7")
    values, safety = told(day)
    kinds = {"source": ["source_kind", "name", "isolating_point", "beyond"]}
    label = {"unit": None, "kind": "text", "choices": [], "required": False}
    fields_known = {one: label | {"label": one} for one in kinds["source"]}
    book = {
        **values.book,
        "registers": values.book["registers"] | kinds,
        "fields": values.book["fields"] | fields_known,
    }
    (clearance,) = safety_report(replace(values, book=book), safety)["clearances"]
    assert clearance["points"][-1] == said


def test_a_card_says_on_what_it_rested():
    day = work(Day().morning())
    assert cards_safety(*told(day)) == {
        "ir1": {
            "shifts": [1],
            "clearances": ["4711"],
            "cell": "1",
            "before": 4,
            "after": 4,
        }
    }


def test_a_card_that_ran_into_a_second_shift_names_both():
    day = Day().morning().when("7:40").lines("test", "ir1", "CR2a T2 T3 T5")
    day.when("7:42").read("ir1").when("16:00").act("end_crew", crew="crew1")
    day.when("16:10").crew("crew2").when("16:30").says(MARIT)
    day.act("dc_off", card="ir1", dc_s=0.0)
    day.when("16:40").lines("after", "ir1", "P01a G14a P03a CR6")
    assert cards_safety(*told(day))["ir1"]["shifts"] == [1, 2]


EXCEPTIONS = {
    "does not apply": (
        lambda day: day.waive("test", "ir1", "CR2a", "no latch in this position"),
        {
            "kind": "not_applicable",
            "where": "card 1",
            "code": "CR2a",
            "what": "A statement.",
            "reason": "no latch in this position",
        },
    ),
    "set aside": (
        lambda day: day.act(
            "override",
            scope="after",
            of="ir1",
            code="P03a",
            reason="room to be cleared",
            names=["Ines Roth", "Pavel Lind"],
        ),
        {
            "kind": "override",
            "where": "card 1",
            "code": "P03a",
            "reason": "room to be cleared",
            "names": ["Ines Roth", "Pavel Lind"],
        },
    ),
    "a lock is off": (
        lambda day: day.act(
            "change", what="lock", of="iso1", item="iso1-s1", cause="lock 7 off"
        ),
        {
            "kind": "lapse",
            "where": "clearance 4711",
            "what": "a lock was taken off",
            "reason": "lock 7 off",
            "sheets": [1],
        },
    ),
    "somebody needed leaves": (
        lambda day: day.says(TOBIAS).act("sign_off", crew="crew1"),
        {
            "kind": "lapse",
            "where": "shift 1",
            "what": "Tobias Vane left the crew",
            "by": "Tobias Vane",
            "sheets": [1],
        },
    ),
    "work is stopped": (
        lambda day: day.act("stop", stop="stop1"),
        {"kind": "stop", "where": "the site", "until": None, "by": "Marit Osei"},
    ),
    "a part is out": (
        lambda day: day.item("put_back", "iso1", "p1", what="CT link X4"),
        {"kind": "not_put_back", "where": "clearance 4711", "what": "CT link X4"},
    ),
}


@pytest.mark.parametrize(("act", "row"), EXCEPTIONS.values(), ids=EXCEPTIONS)
def test_what_is_not_as_usual_is_a_row(act, row):
    day = Day().morning().when("7:40").lines("test", "ir1", "CR2a T2 T3 T5")
    act(day.when("7:41"))
    (found,) = report(day)["exceptions"]
    assert {name: found[name] for name in row} == row
    assert same(found["at"], clock("7:41"))


def test_a_released_stop_says_by_whom_and_what_was_put_right():
    day = Day().morning().when("8:00").says(TOBIAS).act("stop", stop="stop1")
    day.says(MARIT).when("8:20").act(
        "release", stop="stop1", reason="load", put_right="crane moved", agrees=False
    )
    (found,) = report(day)["exceptions"]
    assert (found["by"], found["names"]) == ("Tobias Vane", ["Marit Osei"])
    assert (found["at"], found["until"]) == (clock("8:00"), clock("8:20"))
    assert (found["what"], found["agreed"]) == ("crane moved", False)


def test_a_reading_outside_is_a_row_and_then_nothing_is_in_time():
    day = work(Day().morning()).when("9:00")
    day.act("change", what="lock", of="iso1", item=None, cause="lock 7 off")
    day.when("9:05").read("ir1")
    found = report(day)
    (outside,) = [one for one in found["exceptions"] if one["kind"] == "outside"]
    assert outside["where"] == "card 1"
    assert (
        "A-G 2: the clearance had lapsed at 09:00: a lock was taken off"
        in outside["what"]
    )
    assert found["cards"]["outside"] == 1
    assert found["cards"]["after_open"] == [1]  # asked again after that reading
    assert found["cards"]["in_time"] is False


def test_a_change_on_a_card_that_is_done_is_no_exception():
    day = work(Day().morning()).when("9:00")
    day.act("change", what="instrument", of="ir1", item=None, cause="swapped")
    assert report(day)["exceptions"] == []


def test_a_shift_that_nobody_ended_says_how_it_ended():
    (row,) = report(Day().morning(), now="1 9:00")["crews"]
    assert same(row["closed_at"], clock("21:00"))
    assert row["end"] == "its 14 h were over"


def test_a_part_and_then_the_whole_is_handed_back():
    day = Day().morning().when("12:00")
    day.act("hand_back", isolation="iso1", cells=["cell2"], to="operations")
    day.when("14:00").act("hand_back", isolation="iso1", cells=None, to="the shift")
    (row,) = report(day)["clearances"]
    assert same(row["closed_at"], clock("14:00"))
    assert [(one["cells"], one["to"]) for one in row["parts"]] == [
        (["2"], "operations")
    ]
    assert row["returned"]["to"] == "the shift"


def test_another_lineup_s_crew_and_cards_are_left_out():
    day = work(Day().morning()).when("10:00")
    day.crew("crew9", lineups=("gas",)).lines("test", "rs5", "RS3b T2")
    found = report(day)
    assert [one["shift"] for one in found["crews"]] == [1]
    known = {one["of"] for one in found["statements"]}
    assert not known & {"crew9", "rs5"}


def test_nothing_on_record_gives_a_report_of_nothing():
    found = report(Day())
    assert [found[name] for name in ("crews", "clearances", "cells")] == [[], [], []]
    assert found["cards"]["in_time"] is False
    assert found["lines"] == 0


def test_readings_that_the_list_before_covers_are_no_matter_of_the_scopes():
    """A round that began with confirmations, and goes on by scopes."""
    day = work(Day().morning()).when("20:00").read("ir2")
    values, safety = told(day)
    assert safety_report(values, safety)["cards"]["outside"] == 1
    bus, breaker, relay = values.cards
    covered = [one | {"covered": True} for one in breaker.readings]
    mixed = replace(breaker, readings=covered, confirmed_after=True)
    found = safety_report(replace(values, cards=[bus, mixed, relay]), safety)
    assert found["cards"]["cards"] == 1
    assert found["cards"]["in_time"] is True
    assert found["exceptions"] == []


def test_every_reason_of_the_core_has_words_for_the_past():
    reasons = catalogue()
    codes = {key.split(".")[2] for key in reasons if key.startswith("safety.reason.")}
    assert codes <= WORDS.keys()


def test_a_reading_after_a_stop_that_was_not_heard_says_so():
    day = Day().morning().when("7:40").lines("test", "ir1", "CR2a T2 T3 T5")
    day.when("7:41").says(TOBIAS).act("stop", stop="stop1")
    day.says(MARIT).when("7:42").read("ir1")
    stop, outside = report(day)["exceptions"]
    assert stop["kind"] == "stop"
    assert outside["card"] == "ir1"
    assert outside["what"].startswith(
        "A-G 0: taken after a stop, before it was known here: "
        "Tobias Vane stopped the work at 07:41"
    )
