"""Scenes of safety: stop work, grounds that are off, the order of work, the return."""

from typing import Any

from tests.data.safety_book import INES, MARIT, PAVEL, TOBIAS
from tests.data.safety_day import Day, clock
from tests.data.safety_scene import Scene

Json = dict[str, Any]


def testing() -> Day:
    """Return a morning with the test on the vacuum card of cell 1 begun at 7:35."""
    return Day().morning().when("7:35").lines("test", "vi1", "T2 T5")


def release(at: str, by: Json, *, agrees: bool = True) -> Day:
    """Return a stopped morning, released at a time by somebody."""
    day = testing().when("7:40").read("vi1").says(PAVEL).when("7:45")
    day.act("stop", stop="stop1").says(by).when(at)
    return day.act(
        "release", stop="stop1", reason="cable seen", put_right="barred", agrees=agrees
    )


def stopped() -> Scene:
    day = release("8:00", TOBIAS).says(MARIT).when("8:05")
    day.line("isolation", "iso1", "G07b").when("8:10").enter("cell1").dead("cell1")
    scene = Scene(
        "stop, release, and on again", "walk, cell and card are asked anew", day
    )
    scene.card(
        "7:45",
        "vi1",
        "stopped",
        facts={"by": "Pavel Lind", "at": "2026-11-30T07:45:00.000Z"},
        test="stands",
        after_asked="P01a",
    )
    scene.site("7:45", stop=True, crew1="stands", iso1="stands", cell1="stands")
    # What is made safe stays open; nothing else near the gear is.
    scene.line("7:50", "after vi1", "P01a")
    scene.line("7:50", "test vi1", "T5", "stopped")
    scene.line("7:50", "point cell1", "RS3a", "stopped")
    scene.line("7:50", "crew crew1", "G23a")
    enter = {"cell": "cell2", "isolation": "iso1", "crew": "crew1", "stays": {}}
    scene.act("7:50", "enter", "stopped", **enter)
    wide = ("isolation_lapsed", "point_left", "asked_again")
    scene.card(
        "8:00",
        "vi1",
        *wide,
        facts={"why": "stop", "at": "2026-11-30T08:00:00.000Z"},
        isolation_asked="G07b",
        point_asked="RS3a G10a G10b G13e",
        test_asked="T2 T5",
        test_cause="stop",
    )
    scene.card("8:05", "vi1", "point_left", "asked_again")
    return scene.card("8:10", "vi1", "asked_again", point="stands")


def who_releases() -> Scene:
    day = testing().when("7:45").act("stop", stop="stop1")
    scene = Scene("who may release a stop", "the crew named Marit and Tobias", day)
    words: Json = {"stop": "stop1", "reason": "seen", "put_right": "barred"}
    scene.act("7:50", "release", by=TOBIAS, agrees=True, **words)
    scene.act("7:50", "release", "not_releaser", by=INES, agrees=True, **words)
    scene.act("7:50", "release", "lead_wanted", by=TOBIAS, agrees=False, **words)
    empty = {**words, "reason": "", "put_right": ""}
    wrong = ("reason_missing", "put_right_missing")
    scene.act("7:50", "release", *wrong, by=TOBIAS, agrees=True, **empty)
    other = {**words, "stop": "stop9"}
    return scene.act("7:50", "release", "stop_unknown", agrees=True, **other)


def two_stops() -> Scene:
    day = release("8:00", TOBIAS)
    day.says(INES).when("7:50").act("stop", stop="stop2")
    scene = Scene("two stops", "both have to be released", day)
    return scene.card("7:55", "vi1", "stopped").card(
        "8:00",
        "vi1",
        "stopped",
        "isolation_lapsed",
        "point_left",
        "asked_again",
        facts={"by": "Ines Roth", "at": "2026-11-30T07:50:00.000Z"},
    )


def ground_off() -> Scene:
    day = Day().morning().when("7:33").says(TOBIAS).cell("cell2").says(MARIT)
    day.when("7:35").line("test", "ir1", "T3", grounds=["g1"]).when("7:50")
    day.line("after", "ir1", "G14a")
    scene = Scene(
        "a ground off for one card", "it closes every cell that it holds", day
    )
    scene.card("7:34", "rs2", "test_open", point="stands")
    scene.card("7:35", "rs2", "ground_off", "test_open", point="stands")
    scene.card("7:35", "vi1", "ground_off", "test_open")
    scene.card("7:35", "ir1", "test_open")
    enter = {"cell": "cell3", "isolation": "iso1", "crew": "crew1", "stays": {}}
    scene.act("7:40", "enter", "ground_off", **enter).act("7:51", "enter", **enter)
    scene.line("7:40", "test rs2", "T2", "ground_off")
    return scene.card("7:50", "rs2", "test_open").card(
        "7:50", "ir1", "test_open", "asked_again", test_cause="grounds_back"
    )


def springs() -> Scene:
    day = Day().morning().when("7:35").line("test", "ir1", "CR2a").when("7:50")
    day.line("after", "ir1", "CR6")
    scene = Scene("springs charged for one card", "no other card of that cell", day)
    scene.card("7:35", "vi1", "springs_charged", "test_open", point="stands")
    scene.card("7:35", "ir1", "test_open")
    # Given without a reading: what was charged can always be made safe.
    scene.line("7:45", "after ir1", "CR6").line(
        "7:45", "after ir1", "P01a", "no_reading"
    )
    return scene.card("7:50", "vi1", "test_open").card("7:50", "ir1", "test_open")


def timing() -> Scene:
    day = Day().morning().when("8:00").cell("cell2").when("8:05")
    day.lines("test", "bt2", "T9 T2 T5").when("8:10").read("bt2").when("8:15")
    day.lines("after", "bt2", "P01a BT4")
    scene = Scene("the mechanism of a timed breaker", "until it reads discharged", day)
    scene.card("8:05", "bt2").card("8:05", "rs2", "springs_charged", "test_open")
    return scene.card("8:15", "rs2", "test_open")


def insulation_first() -> Scene:
    day = Day().morning().when("8:00").good("ir1").when("8:10").good("ir2")
    day.found_good["ir2"].append({"at": clock("9:00"), "good": False})
    scene = Scene("a withstand waits for the insulation", "of both that share it", day)
    wait = ("insulation_first", "test_open")
    scene.card("7:59", "acw1", *wait, facts={"cards": ["ir1", "ir2"]})
    scene.card("8:00", "acw1", *wait, facts={"cards": ["ir2"]})
    scene.line("8:05", "test acw1", "T2", "insulation_first")
    scene.card("8:10", "acw1", "test_open")
    return scene.card("9:00", "acw1", *wait, facts={"cards": ["ir2"]})


def order_set_aside() -> Scene:
    day = (
        Day()
        .morning()
        .when("8:00")
        .act(
            "override",
            scope="test",
            of="acw1",
            code="HV4",
            reason="maker's leave",
            names=[],
        )
    )
    scene = Scene("the order set aside", "with a reason alone", day)
    over: Json = {"scope": "test", "of": "acw1", "code": "HV4", "names": []}
    scene.act("7:50", "override", reason="maker's leave", **over)
    scene.act("7:50", "override", "reason_missing", reason="", **over)
    return scene.card("8:00", "acw1", "test_open")


def density_first() -> Scene:
    day = Day().when("7:00").crew(lineups=("ring",))
    day.when("7:20").clearance("iso2", "ring", None, ground="g9")
    day.when("7:30").enter("gas1", "iso2").line("point", "gas1", "RS3a")
    day.line("point", "gas1", "G10a", detector="D-12")
    day.line("point", "gas1", "G13e", grounds=["g9"])
    day.when("7:40").line("point", "gas1", "HV6a")
    scene = Scene("gas density is read in this shift", "before a withstand", day)
    scene.card("7:30", "gas", "point_open", "density_first", "test_open")
    return scene.card("7:40", "gas", "test_open", point="stands")


def does_not_apply() -> Scene:
    day = Day().morning().when("7:35").waive("test", "ir1", "T3", "nothing is lifted")
    day.lines("test", "ir1", "CR2a T2 T5").when("7:40").read("ir1")
    scene = Scene("a line does not apply", "no ground off, none to put back", day)
    scene.card("7:35", "ir1").card("7:40", "ir1", after_asked="P01a P03a CR6")
    scene.card("7:35", "vi1", "springs_charged", "test_open")
    scene.line("7:36", "test ir1", "T5", "never_waived", reason="nobody there")
    scene.line("7:36", "test ir1", "T2", "reason_missing", reason=" ")
    scene.line("7:36", "test ir1", "T2", reason="its own leads")
    scene.line("7:36", "point cell1", "G13e", "two_names", reason="cannot be")
    return scene.line("7:36", "point cell1", "G10b", "never_waived", reason="no")


def notes() -> Scene:
    day = (
        Day()
        .morning()
        .when("7:31")
        .item("set", "crew1", "det1", set_kind="detector", name="D-12")
    )
    scene = Scene("what is noted with a line", "a field each, of its kind", day)
    scene.line("7:32", "point cell1", "G22a", "note_missing")
    scene.line("7:32", "point cell1", "G22a", "note_number", count="six")
    scene.line("7:32", "point cell1", "G22a", count=0)
    scene.line("7:32", "point cell1", "G10a", "note_missing", detector="  ")
    scene.line("7:32", "point cell1", "G10a", "detector_unknown", detector="D-9")
    scene.line("7:32", "point cell1", "G10a", detector="d-12")
    scene.line("7:32", "crew crew1", "G02a", "second_is_first", person=MARIT)
    scene.line("7:32", "crew crew1", "G02a", "note_person", person={})
    scene.line("7:32", "point cell1", "G13e", "note_ground", grounds=["g1", "g7"])
    scene.line("7:32", "point cell1", "G13e", "note_missing", grounds=[])
    scene.line("7:32", "point cell1", "G13e", "note_cell", grounds=["g1"], lender="x")
    scene.line("7:32", "point cell1", "G13e", grounds=["g1"], lender="cell2")
    scene.line("7:32", "crew crew1", "X9", "line_unknown")
    scene.line("7:32", "test ir2", "CR2a", "line_not_asked")
    scene.line("7:32", "isolation iso1", "G06b", "item_unknown", item="s9")
    scene.line("7:32", "crew crew9", "G23a", "crew_unknown")
    return scene.line("7:32", "isolation iso9", "G05b", "isolation_unknown")


def standing_first() -> Scene:
    day = Day().when("7:00").crew().when("7:20")
    scene = Scene(
        "the wider scope first", "no line on a scope that does not stand", day
    )
    wide = ("isolation_none", "point_not_entered")
    scene.line("7:25", "test vi1", "T2", *wide)
    scene.line("7:25", "point cell1", "RS3a", *wide)
    enter = {"cell": "cell1", "isolation": "iso1", "crew": "crew1", "stays": {}}
    scene.act("7:25", "enter", "isolation_none", **enter)
    take = {"isolation": "iso1", "lineup": "north", "section": "A"}
    scene.act("7:25", "open_isolation", clearance="4711", **take)
    scene.act("7:25", "open_isolation", "clearance_missing", clearance=" ", **take)
    wrong = {**take, "clearance": "4711"}
    return scene.act("7:25", "open_isolation", "crew_not_signed_on", by=INES, **wrong)


def returning() -> Day:
    """Return a day that is over at 14:00, with the return of the whole begun."""
    day = Day().morning().item("put_back", "iso1", "p1", put_back_kind="ct_link")
    day.when("7:35").lines("test", "vi1", "T2 T5").when("7:40").read("vi1", "ac")
    day.when("14:00").act("open_return", isolation="iso1", cells=None)
    return day


def returned() -> Scene:
    day = returning().when("14:05").line("after", "vi1", "P01a")
    day.act("put_back", isolation="iso1", item="p1", torque="20 N m")
    day.when("14:10").lines("return", "iso1", "P04a P07b P09a")
    day.line("return", "iso1", "G22b", "cell1").line("return", "iso1", "R1")
    day.says(TOBIAS).line("return", "iso1", "R1").says(MARIT).when("14:20")
    day.act("hand_back", isolation="iso1", cells=None, to="Control room")
    scene = Scene("a clearance is returned", "each line, each cell, each person", day)
    whole: Json = {"isolation": "iso1", "cells": None}
    left = ("cards_open", "return_open")
    scene.act("14:01", "hand_back", *left, to="Control room", **whole)
    scene.act("14:06", "hand_back", "return_open", to="Control room", **whole)
    scene.act("14:15", "hand_back", to="Control room", **whole)
    scene.act("14:15", "hand_back", "returned_to_missing", to="", **whole)
    scene.act("14:15", "hand_back", "not_holder", by=TOBIAS, to="Them", **whole)
    part = {"isolation": "iso1", "cells": ["cell1"], "to": "Control room"}
    scene.act("14:15", "hand_back", "return_none", **part)
    scene.line("14:06", "return iso1", "G22b", "item_unknown", item="cell3")
    # Counted out: the cell does not stand any more, whatever comes.
    scene.card("14:15", "vi1", "point_open", "asked_again", point_asked="G22a")
    scene.site("14:20", iso1="ended", cell1="lapsed")
    scene.card("14:20", "vi1", "isolation_ended", "point_left", "asked_again")
    return scene.act("14:21", "hand_back", "isolation_ended", to="Them", **whole)


def work_goes_on() -> Scene:
    day = returning().when("14:05").line("after", "vi1", "P01a").when("14:10")
    day.lines("return", "iso1", "P04a P07b P09a").line("return", "iso1", "R1")
    day.line("return", "iso1", "G22b", "cell1").says(TOBIAS)
    day.line("return", "iso1", "R1").says(MARIT).when("14:12").line("test", "rk1", "T2")
    scene = Scene("a card after the count", "the return is asked again", day)
    whole: Json = {"isolation": "iso1", "cells": None, "to": "Control room"}
    return scene.act("14:11", "hand_back", **whole).act(
        "14:13", "hand_back", "return_open", **whole
    )


def part_returned() -> Scene:
    day = Day().morning().when("8:00").cell("cell2").when("9:00")
    day.act("open_return", isolation="iso1", cells=["cell2"]).when("9:05")
    day.lines("return", "iso1", "P07b R1").line("return", "iso1", "G22b", "cell2")
    day.says(TOBIAS).line("return", "iso1", "R1").says(MARIT).when("9:10")
    day.act("hand_back", isolation="iso1", cells=["cell2"], to="Control room")
    scene = Scene("a part is handed back", "the rest has another boundary", day)
    part: Json = {"isolation": "iso1", "cells": ["cell2"], "to": "Control room"}
    # P09a, the release in writing, is asked with the whole only.
    scene.act("9:06", "hand_back", **part)
    scene.card(
        "9:10",
        "vi1",
        "crew_lapsed",
        "isolation_lapsed",
        "point_left",
        "test_open",
        crew_asked="G15b",
        isolation_cause="boundary",
        isolation_asked="G05b G06b G07a G07b",
    )
    wide = ("crew_lapsed", "isolation_none", "point_left", "test_open")
    return scene.card("9:10", "rs2", *wide)


def retimed() -> Scene:
    day = Day().morning().when("8:00").cell("cell2").when("8:05")
    day.lines("test", "ir2", "T2 T3 T5").when("8:10").read("ir2").when("8:11")
    day.act("dc_off", card="ir2", dc_s=10.0)
    day.when("8:20").lines("after", "ir2", "P01a G14a P03a").when("8:25")
    day.lines("test", "ir2", "T2 T3 T5").when("8:30").read("ir2")
    scene = Scene(
        "the discharge of a second run", "10 s are less than the site's 60", day
    )
    scene.line("8:10:30", "after ir2", "P03a", "dc_not_off")
    scene.line("8:11:59", "after ir2", "P03a", "discharging")
    scene.line("8:12", "after ir2", "P03a")
    # The dc of the first run does not count for the second.
    scene.line("8:31", "after ir2", "P03a", "dc_not_off")
    scene.act("8:31", "dc_off", card="ir2", dc_s=5.0)
    scene.act("8:31", "dc_off", "dc_time", card="ir2", dc_s=-1.0)
    return scene.act("8:31", "dc_off", "card_unknown", card="nothing", dc_s=5.0)


def discharge_set_aside() -> Scene:
    day = Day().morning().when("8:00").cell("cell2").when("8:05")
    day.lines("test", "ir2", "T2 T3 T5").when("8:10").read("ir2").when("8:11")
    day.act("dc_off", card="ir2", dc_s=600.0).when("8:12").act(
        "override",
        scope="after",
        of="ir2",
        code="P03a",
        reason="a fire next door",
        names=["Ines Roth", "Pavel Lind"],
    )
    scene = Scene(
        "a discharge cut short", "600 s take 40 minutes; two others name it", day
    )
    scene.line("8:11:30", "after ir2", "P03a", "discharging")
    scene.line("8:13", "after ir2", "P03a")
    return scene.card("8:12", "ir2", after_asked="P01a G14a")


SCENES = [
    stopped(),
    who_releases(),
    two_stops(),
    ground_off(),
    springs(),
    timing(),
    insulation_first(),
    order_set_aside(),
    density_first(),
    does_not_apply(),
    notes(),
    standing_first(),
    returned(),
    work_goes_on(),
    part_returned(),
    retimed(),
    discharge_set_aside(),
]
