"""Scenes of safety: what lapses what, cause by cause."""

from typing import Any

from tests.data.safety_book import INES, MARIT, TOBIAS
from tests.data.safety_day import Day, clock
from tests.data.safety_scene import Scene

Json = dict[str, Any]


def testing() -> Day:
    """Return a morning with the test on the vacuum card of cell 1 begun at 7:35."""
    return Day().morning().when("7:35").lines("test", "vi1", "T2 T5")


def change(day: Day, at: str, what: str, of: str, item: str | None = None) -> Day:
    return day.when(at).act("change", what=what, of=of, item=item, cause="seen")


def second_leaves() -> Scene:
    day = testing().says(TOBIAS).when("9:00").act("sign_off", crew="crew1")
    day.says(INES).when("9:10").lines("crew", "crew1", "G01b G03b")
    day.line("isolation", "iso1", "G04c")
    # Marit names Ines, enters again and calls again.
    day.says(MARIT).when("9:15").line("crew", "crew1", "G02a", person=INES)
    # Tobias was one of those who may release a stop: they are named anew too.
    day.line("crew", "crew1", "G25b", releasers=[MARIT, INES])
    day.when("9:20").enter("cell1").dead("cell1").when("9:25")
    day.lines("test", "vi1", "T2 T5")
    scene = Scene("the second person leaves", "work waits for another one", day)
    scene.card(
        "9:00",
        "vi1",
        "crew_lapsed",
        "point_left",
        "asked_again",
        facts={"why": "person", "at": "2026-11-30T09:00:00.000Z"},
        crew="lapsed",
        crew_cause="person",
        test_asked="T2 T5",
    )
    scene.card("9:14", "vi1", "crew_lapsed", "point_left", "asked_again")
    scene.card("9:15", "vi1", "point_left", "asked_again", crew="stands")
    return scene.card("9:20", "vi1", "asked_again").card("9:25", "vi1")


def charge_leaves() -> Scene:
    day = testing().when("9:00").act("sign_off", crew="crew1")
    scene = Scene("the one in charge leaves", "the crew ends with them", day)
    wide = ("crew_ended", "point_left", "asked_again")
    scene.card("9:00", "vi1", *wide, person="tobias", crew="ended", crew_cause="person")
    return scene.line("9:01", "crew crew1", "G03b", "crew_ended", by=TOBIAS)


def charge_changes() -> Scene:
    day = testing().says(TOBIAS).when("9:00").line("crew", "crew1", "G01a")
    day.says(TOBIAS).when("9:05").line("crew", "crew1", "G02a", person=MARIT)
    scene = Scene("charge changes hands", "who was second is named anew", day)
    scene.card(
        "9:00",
        "vi1",
        "crew_lapsed",
        "asked_again",
        crew_cause="charge",
        point="stands",
    )
    # Both were there all the time: nobody left the cell.
    return scene.card("9:05", "vi1", "asked_again", crew="stands", test_asked="T2 T5")


def crew_ends() -> Scene:
    day = testing().when("7:40").read("vi1").when("9:00").act("end_crew", crew="crew1")
    scene = Scene("the shift is over", "cards close, making safe stays open", day)
    wide = ("crew_ended", "point_left", "asked_again")
    scene.card("9:00", "vi1", *wide, after="filling", after_asked="P01a")
    scene.line("9:05", "after vi1", "P01a")
    return scene.line("9:05", "test vi1", "T5", "crew_ended", "point_left")


def too_long() -> Scene:
    day = testing()
    scene = Scene("a shift of 14 hours", "nobody pressed end", day)
    # The call of 7:35 was idle long before; the crew opened at 7:00.
    scene.card("20:59", "vi1", "asked_again", test_cause="idle")
    wide = ("crew_ended", "point_left", "asked_again")
    return scene.card("21:00", "vi1", *wide, crew="ended", crew_cause="hours")


def weather() -> Scene:
    day = change(testing(), "9:00", "weather", "crew1")
    day.when("9:30").line("crew", "crew1", "G23a")
    scene = Scene("the weather turns", "one line of the crew, and the card's own", day)
    scene.card("9:00", "vi1", "crew_lapsed", "asked_again", crew_asked="G23a")
    return scene.card("9:30", "vi1", "asked_again", point="stands", test_cause="wider")


def briefing() -> Scene:
    day = testing().when("9:00").line("crew", "crew1", "G03a")
    for person in (MARIT, TOBIAS):
        day.says(person).when("9:10").line("crew", "crew1", "G03b")
    scene = Scene("the briefing is held again", "each was at this one", day)
    scene.card("9:00", "vi1", "crew_lapsed", "asked_again", crew_asked="G03b G03b")
    return scene.card("9:10", "vi1", "asked_again", crew="stands")


def study() -> Scene:
    day = change(testing(), "9:00", "study", "crew1", "north")
    scene = Scene("a label changes", "the arc-flash line of that lineup", day)
    return scene.card(
        "9:00",
        "vi1",
        "crew_lapsed",
        "asked_again",
        crew_asked="G15b",
        crew_cause="study",
    )


def set_repaired() -> Scene:
    day = (
        testing().when("9:00").item("set", "crew1", "set1", set_kind="hv", name="HV 1")
    )
    day.item("set", "crew1", "lamp", set_kind="lamp").when("9:05")
    day.line("crew", "crew1", "HV7a", "set1")
    change(day, "9:10", "set", "crew1", "set1")
    scene = Scene("a test set comes at nine", "checked once, again when repaired", day)
    # The call of 7:35 is idle since 8:05.
    scene.card("9:00", "vi1", "crew_lapsed", "asked_again", crew_asked="HV7a")
    scene.card("9:05", "vi1", "asked_again", crew="stands", test_asked="T5")
    scene.card("9:10", "vi1", "crew_lapsed", "asked_again", test_asked="T2 T5")
    return scene.line("9:11", "crew crew1", "HV7a", "item_unknown", item="lamp")


def lock_off() -> Scene:
    day = change(testing(), "10:40", "lock", "iso1", "iso1-s1")
    day.when("10:45").line("isolation", "iso1", "G07a", "iso1-s1")
    day.when("10:50").line("isolation", "iso1", "G07b")
    day.when("10:55").enter("cell1").dead("cell1")
    scene = Scene("a lock comes off", "the lock, a walk, and each cell again", day)
    wide = ("isolation_lapsed", "point_left", "asked_again")
    why = {"why": "lock", "at": "2026-11-30T10:40:00.000Z"}
    scene.card("10:40", "vi1", *wide, facts=why, isolation_asked="G07a G07b")
    scene.card("10:45", "vi1", *wide, isolation_asked="G07b")
    scene.card("10:50", "vi1", "point_left", "asked_again", isolation="stands")
    return scene.card("10:55", "vi1", "asked_again", point="stands", test_asked="T2 T5")


def lock_before() -> Scene:
    day = Day().when("7:00").crew().when("7:20")
    day.act(
        "open_isolation",
        isolation="iso1",
        lineup="north",
        section="A",
        clearance="4711",
    )
    day.item("source", "iso1", "s1").when("7:21").line(
        "isolation", "iso1", "G07a", "s1"
    )
    change(day, "7:22", "lock", "iso1", "s1")
    scene = Scene("a lock off before all was given", "asked again, no walk", day)
    wide = (
        "isolation_open",
        "isolation_not_signed_on",
        "point_not_entered",
        "test_open",
    )
    return scene.card("7:22", "vi1", *wide, isolation_asked="G04a G05b G06b G07a")


def ground_moves() -> Scene:
    day = change(testing(), "9:00", "ground", "iso1", "g1")
    scene = Scene("a section ground moves", "its lines, a walk, and each cell", day)
    wide = ("isolation_lapsed", "point_left", "asked_again")
    return scene.card(
        "9:00",
        "vi1",
        *wide,
        isolation_asked="G10d G13a G07b",
        point_asked="RS3a G10a G10b G13e",
    )


def new_source() -> Scene:
    day = testing().when("9:00").item("source", "iso1", "s2", lock="8")
    scene = Scene("a source is found", "it is listed, seen open and locked", day)
    wide = ("isolation_lapsed", "point_left", "asked_again")
    return scene.card(
        "9:00",
        "vi1",
        *wide,
        isolation_asked="G05b G06b G07a G07b",
        isolation_cause="source",
    )


def holder_changes() -> Scene:
    day = testing().says(TOBIAS).when("9:00")
    day.line("isolation", "iso1", "G04a", number="4711")
    day.when("9:01").line("isolation", "iso1", "G07b")
    scene = Scene("the clearance changes hands", "the new holder walks the list", day)
    wide = ("isolation_lapsed", "point_left", "asked_again")
    scene.card("9:00", "vi1", *wide, isolation_cause="holder", isolation_asked="G07b")
    return scene.card("9:01", "vi1", "point_left", "asked_again")


def detector() -> Scene:
    day = change(testing(), "9:00", "detector", "cell1")
    day.when("9:05").line("point", "cell1", "G10a", detector="D-13")
    scene = Scene("the detector is swapped", "only its line, and the card's own", day)
    scene.card(
        "9:00",
        "vi1",
        "point_open",
        "asked_again",
        point="lapsed",
        point_asked="G10a",
        point_cause="detector",
    )
    return scene.card("9:05", "vi1", "asked_again", point="stands", test_cause="wider")


def left_by_hand() -> Scene:
    day = testing().when("11:50").act("leave", cell="cell1")
    scene = Scene("the cell is left at noon", "the lines of presence again", day)
    scene.card("11:50", "vi1", "point_left", "asked_again", point_cause="left")
    # T2 holds by its own words, but the scope it rests on fell.
    return scene.card("11:50", "vi1", "point_left", "asked_again", test_asked="T2 T5")


def idle() -> Scene:
    day = testing()
    scene = Scene("half an hour idle", "the call is asked again, no other line", day)
    scene.card("8:05", "vi1")
    why = {"codes": ["T5"], "why": "idle", "at": "2026-11-30T08:05:00.000Z"}
    return scene.card("8:05:01", "vi1", "asked_again", facts=why, test_asked="T5")


def kept_busy() -> Scene:
    day = testing()
    for at in ("8:00", "8:25", "8:55"):
        day.when(at).read("vi1")
    scene = Scene("never idle for long", "each reading counts, by whomever", day)
    return scene.card("9:20", "vi1").card("9:26", "vi1", "asked_again")


def idle_before_a_line() -> Scene:
    day = testing().when("8:10").line("test", "vi1", "T2")
    scene = Scene("a line after half an hour", "it does not wake the call again", day)
    return scene.card("8:10", "vi1", "asked_again", test_asked="T5", test_cause="idle")


def other_card() -> Scene:
    day = testing().when("7:50").lines("test", "ir1", "T2")
    day.says(TOBIAS).when("7:52").lines("test", "rk1", "T2")
    scene = Scene("work goes on at another card", "the first card is left", day)
    scene.card("7:50", "vi1", "asked_again", test_cause="card_left", test_asked="T2 T5")
    # Tobias gave no line on Marit's card: hers stay where they are.
    return scene.card("7:52", "ir1", "test_open", test_asked="CR2a T3 T5")


def after_on_another_card() -> Scene:
    day = testing().when("7:40").read("vi1", "dc").act("dc_off", card="vi1", dc_s=120.0)
    day.when("7:42").lines("test", "ir1", "CR2a T2 T3 T5")
    day.when("7:48").lines("after", "vi1", "P01a P03a")
    scene = Scene(
        "the timer of one card, the test of the next", "120 s take 8 min", day
    )
    scene.line("7:47:59", "after vi1", "P03a", "discharging")
    scene.line("7:48", "after vi1", "P03a")
    # The other card has lifted the ground and may have charged the springs.
    other = ("springs_charged", "ground_off", "test_open", "asked_again")
    return scene.card("7:48", "ir1").card("7:48", "vi1", *other, after="stands")


def signed() -> Scene:
    day = testing().when("7:40").read("vi1")
    day.signed["vi1"] = clock("8:00")
    scene = Scene("the card is signed", "its lines end with it", day)
    return scene.card("7:59", "vi1").card(
        "8:00", "vi1", "asked_again", test_cause="signed", test_asked="T2 T5"
    )


def instrument() -> Scene:
    day = change(testing(), "7:50", "instrument", "vi1")
    scene = Scene("the instrument is swapped", "its line alone", day)
    return scene.card("7:50", "vi1", "asked_again", test_asked="T2")


def same_moment() -> Scene:
    day = testing()
    change(day, "7:35", "instrument", "vi1")
    scene = Scene("a change at the moment of the line", "the line counts", day)
    return scene.card("7:35", "vi1")


def two_at_a_time() -> Scene:
    day = testing().when("7:36").line("test", "vi1", "T5").line("test", "vi1", "T5")
    day.line("crew", "crew1", "G01b").line("crew", "crew1", "G03b")
    scene = Scene("a person signs on twice", "the later lines hold, none twice", day)
    scene.line("7:37", "crew crew1", "G01b").line("7:37", "crew crew1", "G03b")
    return scene.card("7:36", "vi1", crew="stands")


def set_aside() -> Scene:
    day = change(testing(), "9:00", "weather", "crew1")
    names = ["Ines Roth", "Pavel Lind"]
    day.when("9:02").act(
        "override",
        scope="crew",
        of="crew1",
        code="G23a",
        reason="pressed by mistake",
        names=names,
    )
    scene = Scene("a line lapsed by mistake", "set aside by two others", day)
    scene.card("9:02", "vi1", "asked_again", crew="stands", crew_asked="")
    change(day, "9:30", "weather", "crew1")
    over: Json = {"scope": "crew", "of": "crew1", "reason": "a mistake"}
    scene.act("9:01", "override", code="G23a", names=names, **over)
    scene.act("9:01", "override", "two_names", code="G23a", names=names[:1], **over)
    own = ["Marit Osei", "Ines Roth"]
    scene.act("9:01", "override", "two_names", code="G23a", names=own, **over)
    over["reason"] = " "
    scene.act("9:01", "override", "reason_missing", code="G23a", names=names, **over)
    locks = {"scope": "isolation", "of": "iso1", "reason": "a mistake", "names": names}
    scene.act("9:01", "override", "never_waived", code="G07a", **locks)
    # Lapsed once more, the override lapses as the line would.
    return scene.card("9:30", "vi1", "crew_lapsed", "asked_again", crew_asked="G23a")


def permit_ends() -> Scene:
    day = Day().morning().when("9:00").item("place", "crew1", "pit", name="Pit 1")
    day.line("crew", "crew1", "G24a", "pit", permit_end=clock("12:00"))
    day.when("11:50").lines("test", "vi1", "T2 T5").when("12:05")
    day.line("crew", "crew1", "G24a", "pit", permit_end=clock("16:00"))
    scene = Scene("a permit ends at noon", "by its own time, nobody presses", day)
    scene.card("11:59", "vi1").card(
        "12:00", "vi1", "crew_lapsed", "asked_again", crew_cause="permit"
    )
    scene.card("12:05", "vi1", "asked_again", crew="stands", point="stands")
    place = {"item": "pit", "permit_end": clock("12:00")}
    scene.line("12:01", "crew crew1", "G24a", "permit_over", **place)
    return scene.line("11:00", "crew crew1", "G24a", **place)


def permit_renewed() -> Scene:
    day = Day().morning().when("9:00").item("place", "crew1", "pit", name="Pit 1")
    for at, end in (("9:00", "12:00"), ("11:45", "16:00")):
        day.when(at).line("crew", "crew1", "G24a", "pit", permit_end=clock(end))
    day.when("11:50").lines("test", "vi1", "T2 T5")
    scene = Scene("a permit renewed before its end", "the first one's end is past", day)
    return scene.card("12:00", "vi1").card(
        "16:00", "vi1", "crew_lapsed", "asked_again", crew_cause="permit"
    )


SCENES = [
    permit_ends(),
    permit_renewed(),
    second_leaves(),
    charge_leaves(),
    charge_changes(),
    crew_ends(),
    too_long(),
    weather(),
    briefing(),
    study(),
    set_repaired(),
    lock_off(),
    lock_before(),
    ground_moves(),
    new_source(),
    holder_changes(),
    detector(),
    left_by_hand(),
    idle(),
    kept_busy(),
    idle_before_a_line(),
    other_card(),
    after_on_another_card(),
    signed(),
    instrument(),
    same_moment(),
    two_at_a_time(),
    set_aside(),
]
