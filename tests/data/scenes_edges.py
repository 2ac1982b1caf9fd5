"""Scenes of safety: the cases at the edge of a scope."""

from typing import Any

from tests.data.safety_book import INES, MARIT, PAVEL, TOBIAS
from tests.data.safety_day import Day
from tests.data.safety_scene import Scene

Json = dict[str, Any]


def testing() -> Day:
    """Return a morning with the test on the vacuum card of cell 1 begun at 11:50."""
    return Day().morning().when("11:50").lines("test", "vi1", "T2 T5")


def joins_at_noon() -> Scene:
    day = testing().says(INES).when("12:00").line("crew", "crew1", "G01b")
    day.when("12:01").line("crew", "crew1", "G03b")
    day.line("isolation", "iso1", "G04c")
    day.says(MARIT).when("12:05").line("test", "vi1", "T5")
    scene = Scene("somebody joins at noon", "own lines; the call is asked again", day)
    scene.card("12:00", "vi1").card(
        "12:00",
        "vi1",
        "crew_not_signed_on",
        "isolation_not_signed_on",
        person="ines",
    )
    # All scopes stand; the number of people changed.
    scene.card(
        "12:01",
        "vi1",
        "asked_again",
        crew="stands",
        isolation="stands",
        point="stands",
        test_asked="T5",
        test_cause="crew",
    )
    return scene.card("12:05", "vi1", person="ines").card("12:05", "vi1")


def second_lineup() -> Scene:
    day = testing().when("11:55").act("extend_crew", crew="crew1", lineups=["ring"])
    day.when("12:00").line("crew", "crew1", "G15b", "ring")
    day.when("12:05").clearance("iso2", "ring", None, ground="g9")
    # The tie between them is a boundary no longer.
    day.when("12:10").act("change", what="boundary", of="iso1", item=None, cause="tie")
    scene = Scene("a clearance extended to a second lineup", "its own distances", day)
    scene.card("11:54", "vi1")
    # The crew waits for the new lineup's line; nothing at the gear changed.
    scene.card("11:55", "vi1", "crew_lapsed", crew_asked="G15b", test="stands")
    scene.card("12:00", "vi1").card("12:05", "gas", *FIRST)
    scene.site("12:05", iso1="stands", iso2="stands", crew1="stands")
    wide = ("crew_lapsed", "isolation_lapsed", "point_left", "asked_again")
    scene.card(
        "12:10",
        "vi1",
        *wide,
        crew_asked="G15b",
        isolation_asked="G05b G06b G07a G07b",
    )
    return scene.site("12:10", iso1="lapsed", iso2="stands")


FIRST = ("point_not_entered", "density_first", "test_open")


def one_energized() -> Scene:
    day = testing().when("12:00").cell("cell3").when("13:00")
    day.act("open_return", isolation="iso1", cells=["cell3"])
    day.lines("return", "iso1", "P07b R1").line("return", "iso1", "G22b", "cell3")
    day.says(TOBIAS).line("return", "iso1", "R1").says(MARIT).when("13:05")
    day.act("hand_back", isolation="iso1", cells=["cell3"], to="Control room")
    # The device between is an isolating point now.
    day.when("13:10").item("source", "iso1", "s3", lock="9").when("13:15")
    day.line("crew", "crew1", "G15b", "north").line("isolation", "iso1", "G05b")
    for source in ("iso1-s1", "s3"):
        day.line("isolation", "iso1", "G06b", source)
        day.line("isolation", "iso1", "G07a", source)
    day.when("13:20").line("isolation", "iso1", "G07b")
    day.when("13:25").enter("cell1").dead("cell1").when("13:30")
    day.lines("test", "vi1", "T2 T5")
    scene = Scene("one cell re-energized, others tested", "the rest starts anew", day)
    wide = ("crew_lapsed", "isolation_lapsed", "point_left", "asked_again")
    scene.card("13:05", "vi1", *wide)
    scene.card("13:15", "vi1", *wide[1:], isolation_asked="G07b")
    scene.card("13:20", "vi1", *wide[2:]).card("13:25", "vi1", "asked_again")
    scene.card("13:30", "vi1").card(
        "13:30", "ir3", "isolation_none", "point_left", "test_open"
    )
    enter = {"cell": "cell3", "isolation": "iso1", "crew": "crew1", "stays": {}}
    return scene.act("13:30", "enter", "isolation_none", **enter)


def two_crews() -> Scene:
    day = testing().when("12:00").crew("crew2", first=INES, second=PAVEL)
    for person in (INES, PAVEL):
        day.says(person).line("isolation", "iso1", "G04c")
    day.says(INES).when("12:05").line("isolation", "iso1", "G07b")
    day.when("12:10").cell("cell2", crew="crew2")
    day.says(MARIT).when("12:15").line("test", "ir1", "T3", grounds=["g1"])
    day.when("14:00").act("open_return", isolation="iso1", cells=None)
    scene = Scene("two crews on one lineup", "a crew each, one clearance", day)
    # The second crew walks the list; nobody leaves a cell for it.
    scene.card("12:00", "vi1", "isolation_lapsed", isolation_cause="new_shift")
    scene.card("12:05", "vi1", point="stands").card(
        "12:10", "rs2", "test_open", person="ines"
    )
    scene.card("12:10", "vi1", "point_held", person="ines")
    scene.card("12:10", "rs2", "point_held", "test_open")
    # A common ground is off: no other card, no other cell.
    scene.card("12:15", "rs2", "ground_off", "test_open", person="ines")
    enter = {"cell": "cell3", "isolation": "iso1", "crew": "crew2", "stays": {}}
    scene.act("12:20", "enter", "ground_off", by=INES, **enter)
    held = {**enter, "cell": "cell1"}
    scene.act("12:12", "enter", "point_held", by=INES, **held)
    # Whoever signed on says that they are off: four people, of both crews.
    whole = {"isolation": "iso1", "cells": None, "to": "Control room"}
    return scene.act("14:01", "hand_back", "cards_open", "return_open", **whole)


def across_midnight() -> Scene:
    day = Day().when("20:00").crew().when("20:20").clearance().when("20:30")
    day.cell("cell1").when("23:50").lines("test", "vi1", "T2 T5")
    day.when("1 0:05").read("vi1")
    day.when("1 5:50").crew("crew2", first=INES, second=PAVEL)
    for person in (INES, PAVEL):
        day.says(person).line("isolation", "iso1", "G04c")
    day.says(MARIT).when("1 6:00").act("end_crew", crew="crew1")
    day.says(INES).when("1 6:05").line("isolation", "iso1", "G07b")
    day.when("1 6:10").enter("cell1", crew="crew2").dead("cell1")
    day.when("1 6:15").lines("test", "vi1", "T2 T5")
    scene = Scene("work across midnight", "a shift is a span, not a date", day)
    scene.card("1 0:05", "vi1", crew="stands", point="stands")
    over = ("crew_not_signed_on", "isolation_lapsed", "point_left", "asked_again")
    scene.card("1 6:00", "vi1", *over, isolation_cause="new_shift")
    new = ("isolation_lapsed", "point_left", "asked_again")
    scene.card("1 6:00", "vi1", *new, person="ines")
    scene.card("1 6:05", "vi1", *new[1:], person="ines", point_asked=PRESENCE)
    return scene.card("1 6:15", "vi1", person="ines")


PRESENCE = "RS3a G10a G10b G13e"


def stop_elsewhere() -> Scene:
    day = testing().when("11:55").read("vi1").when("12:00")
    day.says(PAVEL).act("stop", stop="stop1").says(MARIT)
    day.when("12:05").read("vi1").when("12:06").line("after", "vi1", "P01a")
    scene = Scene(
        "signal lost while stop is pressed elsewhere", "kept, and listed", day
    )
    scene.card("11:59", "vi1").card("12:05", "vi1", "stopped")
    return scene.card("12:06", "vi1", "stopped", "asked_again", after="stands")


def borrowed_ground() -> Scene:
    day = Day().when("7:00").crew(lineups=("ring",))
    day.when("7:20").clearance("iso2", "ring", None, ground="g9")
    for cell in ("gas2", "gas1"):
        day.when("7:30").enter(cell, "iso2", gas2="Tobias Vane")
        day.line("point", cell, "RS3a").line("point", cell, "G10a", detector="D-12")
        day.line("point", cell, "HV6a")
    day.line("point", "gas2", "G13e", grounds=["g9"])
    way = {"path": "through cell 2, breaker 52-F, trip blocked", "lender": "gas2"}
    day.line("point", "gas1", "G13e", grounds=["g9"], **way)
    day.when("8:00").act("change", what="switch", of="gas2", item=None, cause="moved")
    scene = Scene("a gas-insulated cell that borrows its ground", "both are tied", day)
    scene.site("7:30", gas1="stands", gas2="stands")
    scene.site("8:00", gas1="lapsed", gas2="lapsed", iso2="stands")
    scene.card("8:00", "gas", "point_open", "test_open", point_asked="G13e")
    # No path at all: two other people put their names to it.
    scene.line("8:05", "point gas1", "G13e", "two_names", reason="no path")
    aside = {"scope": "point", "of": "gas1", "code": "G13e", "reason": "no path"}
    names = ["Ines Roth", "Pavel Lind"]
    scene.act("8:05", "override", names=names, **aside)
    return scene.act("8:05", "override", "two_names", names=["Marit Osei"], **aside)


def injection_with_grounds_off() -> Scene:
    day = (
        Day()
        .morning()
        .when("8:00")
        .item("ground", "iso1", "g2", ground_kind="portable", number="G-3")
    )
    for code in ("G10d", "G13a"):
        day.when("8:05").line("isolation", "iso1", code, "g2")
    day.when("8:10").line("isolation", "iso1", "G07b").when("8:15")
    day.enter("cell2").dead("cell2").line("point", "cell2", "G09a")
    day.line("point", "cell2", "G22a", count=0).when("8:20")
    day.says(TOBIAS).cell("cell3").says(MARIT).when("8:30")
    day.line("test", "pi3", "T3", grounds=["g1"]).when("8:50")
    day.line("after", "pi3", "G14a", grounds=["g1"])
    scene = Scene("primary injection with grounds off", "no other card meanwhile", day)
    off = {"card": "pi3", "ground": "g1", "since": "2026-11-30T08:30:00.000Z"}
    scene.card("8:29", "rs2", "test_open")
    scene.card("8:30", "rs2", "ground_off", "test_open", facts=off)
    scene.card("8:30", "pi3", "test_open").card("8:50", "rs2", "test_open")
    # One ground stays on: anybody may say it. None left: the one in charge says it.
    scene.line("8:25", "test pi3", "T3", by=TOBIAS, grounds=["g1"])
    both = ["g1", "g2"]
    scene.line("8:25", "test pi3", "T3", "last_ground", by=TOBIAS, grounds=both)
    return scene.line("8:25", "test pi3", "T3", grounds=both)


SCENES = {
    scene.name: scene
    for scene in (
        joins_at_noon(),
        second_lineup(),
        one_energized(),
        two_crews(),
        across_midnight(),
        stop_elsewhere(),
        borrowed_ground(),
        injection_with_grounds_off(),
    )
}
