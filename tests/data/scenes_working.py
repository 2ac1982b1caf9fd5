"""Scenes of safety: the normal way from the briefing to the line after the reading."""

from tests.data.safety_book import INES, MARIT, TOBIAS
from tests.data.safety_day import Day
from tests.data.safety_scene import Scene


def nothing() -> Scene:
    scene = Scene("nothing yet", "no act at all", Day())
    return scene.card(
        "8:00",
        "ir1",
        "crew_none",
        "isolation_none",
        "point_not_entered",
        "test_open",
        crew="none",
        point="none",
        after="none",
        after_asked="",
    ).site("8:00", cell1="none", stop=False)


def filling() -> Scene:
    day = (
        Day()
        .when("7:00")
        .act(
            "open_crew",
            crew="crew1",
            lineups=["north"],
            planned_end="2026-11-30T15:30:00Z",
        )
    )
    day.line("crew", "crew1", "G01a").lines("crew", "crew1", "G01b G03b")
    day.line("crew", "crew1", "G02a", person=TOBIAS)
    scene = Scene("a crew being filled", "shared lines and the second's are open", day)
    wide = ("crew_open", "isolation_none", "point_not_entered", "test_open")
    # Shared: G03a, G15b of one lineup, G23a, G25b; own: Tobias' two. HV7a: no set.
    return scene.card(
        "7:10",
        "ir1",
        *wide,
        crew="filling",
        facts={"open": 6},
        crew_asked="G03a G15b G23a G25b G01b G03b",
    )


def morning() -> Scene:
    day = Day().morning()
    scene = Scene("the wide scopes stand", "crew, clearance and cell 1 by 7:30", day)
    scene.card("7:29", "ir1", "point_not_entered", "test_open")
    scene.card(
        "7:30",
        "ir1",
        "test_open",
        facts={"open": 4, "codes": ["CR2a", "T2", "T3", "T5"]},
    )
    scene.card("7:30", "ir2", "point_not_entered", "test_open")
    scene.card("7:30", "rs5", "isolation_none", "point_not_entered", "test_open")
    return scene.site(
        "7:30", crew1="stands", iso1="stands", cell1="stands", cell2="none"
    )


def not_signed_on() -> Scene:
    day = Day().morning()
    scene = Scene("a stranger records", "Ines gave no line of her own", day)
    scene.card(
        "7:40",
        "ir1",
        "crew_not_signed_on",
        "isolation_not_signed_on",
        "point_held",
        "test_open",
        person="ines",
    )
    # Tobias is of the crew and signed on: the cell that Marit holds is his too.
    return scene.card("7:40", "ir1", "test_open", person="tobias")


def first_reading() -> Scene:
    day = Day().morning().when("7:35").lines("test", "ir1", "CR2a T2 T3 T5")
    scene = Scene("open for readings", "all four lines of the test are given", day)
    scene.card("7:34", "ir1", "test_open", after_asked="")
    # The ground is off and the spring may be charged: both can be given back already.
    scene.card("7:35", "ir1", test="stands", after="filling", after_asked="G14a CR6")
    return scene


def made_safe() -> Scene:
    day = Day().morning().when("7:35").lines("test", "ir1", "CR2a T2 T3 T5")
    day.when("7:40").read("ir1").act("dc_off", card="ir1", dc_s=60.0)
    day.when("7:45").lines("after", "ir1", "P01a G14a P03a CR6")
    scene = Scene(
        "made safe after the reading", "four lines of after, all in time", day
    )
    scene.card("7:40", "ir1", after="filling", after_asked="P01a G14a P03a CR6")
    # Made safe: the call and the grounds are asked again before another reading.
    return scene.card(
        "7:45",
        "ir1",
        "asked_again",
        after="stands",
        after_asked="",
        test_asked="T3 T5",
        test_cause="made_safe",
    )


def retested() -> Scene:
    day = Day().morning().when("7:35").lines("test", "ir1", "CR2a T2 T3 T5")
    day.when("7:40").read("ir1").when("7:45").lines(
        "after", "ir1", "P01a G14a P03a CR6"
    )
    day.when("7:50").lines("test", "ir1", "T3 T5").when("7:55").read("ir1")
    scene = Scene("after a retest", "what comes after the readings is asked again", day)
    # CR2a was not given anew, so CR6 is not asked again; T3 was, so G14a is.
    return scene.card("7:50", "ir1").card(
        "7:55",
        "ir1",
        after="lapsed",
        after_cause="reading",
        after_asked="P01a G14a P03a",
    )


def next_cell() -> Scene:
    day = Day().morning().when("8:00").cell("cell2")
    scene = Scene("the holder goes to the next cell", "cell 1 is left behind", day)
    scene.card("8:00", "ir2", "test_open", point="stands")
    left = ("point_left", "test_open")
    facts = {"at": "2026-11-30T08:00:00.000Z", "why": "left"}
    scene.card("8:00", "ir1", *left, facts=facts, point="lapsed")
    # Spring and count are no lines of presence: they stay.
    return scene.card("8:00", "ir1", *left, point_asked="RS3a G10a G10b G13e")


def back_again() -> Scene:
    day = Day().morning().when("8:00").cell("cell2")
    day.when("8:30").enter("cell1").when("8:31").dead("cell1")
    scene = Scene("a cell entered again", "only the lines of presence are asked", day)
    scene.card("8:30", "ir1", "point_open", "test_open", facts={"open": 4})
    return scene.card("8:31", "ir1", "test_open", point="stands")


def somebody_stays() -> Scene:
    day = Day().morning().when("8:00").enter("cell2", cell1="Tobias Vane")
    scene = Scene("somebody stays at the barrier", "cell 1 is not left", day)
    return scene.card("8:00", "ir1", "test_open", point="stands").site(
        "8:00", cell1="stands", cell2="filling"
    )


def two_supplies() -> Scene:
    day = Day().morning().when("7:35").lines("test", "vi1", "T2 T5")
    scene = Scene("lists by supply", "dc asks one line more than ac", day)
    scene.card("7:35", "vi1", choice="ac").card("7:35", "vi1")
    return scene.card(
        "7:35", "vi1", "test_open", choice="dc", facts={"open": 1, "codes": ["RS3b"]}
    )


def crew_alone() -> Scene:
    day = Day().when("7:00").crew().when("7:10").line("test", "rk1", "T2")
    scene = Scene("a card that rests on the crew alone", "racking on live gear", day)
    return scene.card("7:09", "rk1", "test_open").card("7:10", "rk1")


def ines_records() -> Scene:
    day = (
        Day()
        .when("7:00")
        .crew(second=INES)
        .when("7:20")
        .clearance(people=(MARIT, INES))
    )
    day.when("7:30").cell("cell1").says(INES).when("7:35").lines("test", "vi1", "T2 T5")
    scene = Scene("one gives the lines, another records", "both are of the crew", day)
    return scene.card("7:35", "vi1").card("7:35", "vi1", person="ines")


SCENES = [
    nothing(),
    filling(),
    morning(),
    not_signed_on(),
    first_reading(),
    made_safe(),
    retested(),
    next_cell(),
    back_again(),
    somebody_stays(),
    two_supplies(),
    crew_alone(),
    ines_records(),
]
