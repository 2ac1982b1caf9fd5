"""Scenes of safety: between two shifts, two clearances, two returns."""

from typing import Any

from tests.data.safety_book import INES, MARIT, PAVEL, TOBIAS
from tests.data.safety_day import Day
from tests.data.safety_scene import Scene

Json = dict[str, Any]


def third_leaves() -> Scene:
    day = Day().morning().says(INES).lines("crew", "crew1", "G01b G03b").says(MARIT)
    day.when("7:35").lines("test", "vi1", "T2 T5").says(INES).when("7:45")
    day.act("sign_off", crew="crew1")
    scene = Scene("a third person leaves", "the number of people changed", day)
    scene.card("7:44", "vi1")
    return scene.card(
        "7:45", "vi1", "asked_again", crew="stands", test_asked="T5", test_cause="crew"
    )


def stop_without_clearance() -> Scene:
    day = Day().when("7:00").crew().when("7:10").enter("cell5", None)
    day.line("point", "cell5", "RS3a").when("7:20").act("stop", stop="stop1")
    day.when("7:30").act(
        "release", stop="stop1", reason="seen", put_right="barred", agrees=True
    )
    scene = Scene(
        "a stop at a cell without a clearance", "it is entered again too", day
    )
    return scene.site("7:20", cell5="stands").site("7:30", cell5="lapsed")


def returned_twice() -> Scene:
    day = Day().morning().when("8:00").cell("cell2").when("9:00")
    day.act("open_return", isolation="iso1", cells=["cell2"]).when("9:05")
    day.lines("return", "iso1", "P07b R1").line("return", "iso1", "G22b", "cell2")
    day.says(TOBIAS).line("return", "iso1", "R1").says(MARIT).when("9:10")
    day.act("hand_back", isolation="iso1", cells=["cell2"], to="Control room")
    day.when("9:20").act("open_return", isolation="iso1", cells=None).when("9:25")
    day.lines("return", "iso1", "R1 P09a").line("return", "iso1", "G22b", "cell1")
    day.says(TOBIAS).line("return", "iso1", "R1").says(MARIT)
    whole: Json = {"isolation": "iso1", "cells": None, "to": "Control room"}
    scene = Scene(
        "a part, then the rest", "the count of the part is not the rest's", day
    )
    return scene.act("9:30", "hand_back", "return_open", **whole)


def gas_morning() -> Day:
    day = Day().when("7:00").crew(lineups=("ring",))
    day.when("7:20").clearance("iso2", "ring", None, ground="g9")
    day.when("7:30").enter("gas1", "iso2").line("point", "gas1", "RS3a")
    day.line("point", "gas1", "G10a", detector="D-12").line("point", "gas1", "HV6a")
    return day.line("point", "gas1", "G13e", grounds=["g9"])


def density_of_another_shift() -> Scene:
    day = gas_morning().when("8:00").crew("crew2", ("ring",), INES, PAVEL)
    for person in (INES, PAVEL):
        day.says(person).line("isolation", "iso2", "G04c")
    day.when("8:05").line("isolation", "iso2", "G07b").says(MARIT).when("9:00")
    day.act("end_crew", crew="crew1")
    scene = Scene("density read in the shift before", "read again in this one", day)
    scene.card("8:05", "gas", "test_open")
    own = ("point_held", "density_first", "test_open")
    scene.card("8:05", "gas", *own, person="ines")
    return scene.card(
        "9:00",
        "gas",
        "point_left",
        "density_first",
        "test_open",
        person="ines",
        point_asked="RS3a G10a G13e HV6a",
    )


def ground_of_another_clearance() -> Scene:
    day = Day().when("7:00").crew(lineups=("north", "ring"))
    day.when("7:20").clearance().clearance("iso2", "ring", None, ground="g9")
    day.when("7:30").enter("gas1", "iso2").line("point", "gas1", "RS3a")
    day.line("point", "gas1", "G10a", detector="D-12").line("point", "gas1", "HV6a")
    day.line("point", "gas1", "G13e", grounds=["g1"]).when("8:00")
    day.act("change", what="ground", of="iso1", item="g1", cause="moved")
    day.when("8:10").line("point", "gas1", "G13e", grounds=["g1"]).when("8:20")
    day.item("ground", "iso1", "g3", ground_kind="portable").when("8:30")
    for code in ("G10d", "G13a"):
        for ground in ("g1", "g3"):
            day.line("isolation", "iso1", code, ground)
    day.line("isolation", "iso1", "G07b").when("8:40")
    day.item("ground", "iso1", "g1", ground_kind="portable", gone=True)
    scene = Scene("a ground of another clearance", "moved, or taken off the list", day)
    scene.site("7:59", gas1="stands").site("8:00", gas1="lapsed", iso2="stands")
    scene.site("8:10", gas1="stands").site("8:30", gas1="stands", iso1="stands")
    return scene.site("8:40", gas1="lapsed", iso1="lapsed", iso2="stands")


def another_clearance() -> Scene:
    day = Day().morning().when("8:00").clearance("iso3", "north", "A", ground="g3")
    day.when("8:10").enter("cell1", "iso3")
    scene = Scene("a cell under another clearance", "all its lines anew", day)
    asked = "RS3a G09a G10a G10b G13e G22a"
    return scene.card("8:10", "vi1", "point_open", "test_open", point_asked=asked)


def doubt() -> Scene:
    day = Day().morning().when("7:40").item("set", "crew1", "set1", name="a set")
    scene = Scene("a set of no kind", "what is not known is asked", day)
    return scene.card("7:40", "vi1", "crew_lapsed", "test_open", crew_asked="HV7a")


def own_cell() -> Scene:
    day = Day().morning().when("7:35").line("test", "ir1", "T3", grounds=["g1"])
    scene = Scene("back to the cell whose ground is off", "its own is no bar", day)
    enter = {"cell": "cell1", "isolation": "iso1", "crew": "crew1", "stays": {}}
    return scene.act("7:40", "enter", **enter)


def releasers_of_before() -> Scene:
    day = Day().morning().when("9:00").act("end_crew", crew="crew1").when("9:10")
    day.act("stop", stop="stop1")
    scene = Scene("a stop after the shift", "nobody is named: a lead releases", day)
    words: Json = {"stop": "stop1", "reason": "seen", "put_right": "barred"}
    return scene.act("9:20", "release", "lead_wanted", agrees=True, **words)


SCENES = [
    third_leaves(),
    stop_without_clearance(),
    returned_twice(),
    density_of_another_shift(),
    ground_of_another_clearance(),
    another_clearance(),
    doubt(),
    own_cell(),
    releasers_of_before(),
]
