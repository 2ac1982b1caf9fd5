"""The sheet to print and sign: blank, and with what was told so far."""

from typing import Any

from models.record.safety_sheet.sheet import safety_sheet
from tests.data.safety_book import PAVEL
from tests.data.safety_day import Day
from tests.models.record.safety_report.told_day import BOOK, told, work


def sheet(day: Day, now: str = "18:00") -> dict[str, Any]:
    """Return the sheet of a day."""
    values, safety = told(day, now)
    return dict(safety_sheet(values, safety.site(values.now)))


def line(lines: list[dict[str, Any]], code: str) -> dict[str, Any]:
    return next(one for one in lines if one["code"] == code)


def test_a_blank_sheet_asks_all_that_the_book_has():
    blank = sheet(Day())
    (crew,), (isolation,) = blank["crews"], blank["isolations"]
    lines = BOOK["lines"]
    own = [c for c in BOOK["crew"] if lines[c]["each"] == ["person"]]
    assert [one["code"] for one in crew["lines"]] == [
        code for code in BOOK["crew"] if code not in own
    ]
    assert [head.split()[0] for head, _ in crew["tables"][0]["heads"][1:-1]] == own
    once = [c for c in BOOK["isolation"] if not lines[c]["each"]]
    assert [one["code"] for one in isolation["lines"]] == once
    returning = [c for c in BOOK["returning"] if not lines[c]["each"]]
    assert [one["code"] for one in isolation["returning"]] == returning
    assert [one["title"] for one in blank["points"]] == [
        "Cell 1 Incomer",
        "Cell 2 Feeder",
        "Cell 3 Feeder",
        "Cell 5 Feeder",
    ]
    assert not any(one["by"] for one in crew["lines"] + isolation["lines"])
    assert line(crew["lines"], "G02a")["fields"] == [["second person", "", ""]]
    assert all(table["blank"] for table in crew["tables"] + isolation["tables"])


def test_what_is_on_record_stands_on_it():
    filled = sheet(Day().morning())
    (crew,), (isolation,) = filled["crews"], filled["isolations"]
    assert crew["title"] == "Crew, shift 1"
    assert crew["facts"] == ["In charge Marit Osei", "planned until 15:30"]
    second = line(crew["lines"], "G02a")
    assert second["fields"] == [["second person", "", "Tobias Vane"]]
    assert (second["by"], second["at"]) == ("Marit Osei", "07:00")
    assert line(crew["lines"], "G15b")["item"] == "North"
    people = crew["tables"][0]["rows"]
    assert people[0] == ["Marit Osei", "07:00, Marit Osei", "07:00, Marit Osei", ""]
    assert isolation["title"] == "Clearance 4711"
    sources, grounds, signed_on = isolation["tables"]
    assert sources["rows"] == [["7", "07:20, Marit Osei", "07:20, Marit Osei"]]
    assert grounds["rows"][0][0] == "G-2"
    assert [row[0] for row in signed_on["rows"]] == ["Marit Osei", "Tobias Vane"]
    cell = filled["points"][0]
    assert cell["facts"] == ["Entered 07:30 by Marit Osei"]
    assert line(cell["lines"], "G10a")["fields"] == [["detector", "", "D-12"]]


def test_what_lapsed_is_asked_again_and_says_why():
    day = work(Day().morning()).when("9:00")
    day.act("change", what="lock", of="iso1", item="iso1-s1", cause="lock 7 off")
    (isolation,) = sheet(day)["isolations"]
    assert isolation["tables"][0]["rows"] == [["7", "07:20, Marit Osei", ""]]
    entered = sheet(day)["points"][0]
    label = line(entered["lines"], "RS3a")
    assert label["by"] == ""
    assert label["again"].startswith("Asked again since 09:00")


def test_what_does_not_apply_says_why():
    day = Day().morning().waive("crew", "crew1", "G23a", "all work is indoors")
    (crew,) = sheet(day)["crews"]
    weather = line(crew["lines"], "G23a")
    assert weather["again"] == "Does not apply: all work is indoors"
    assert weather["by"] == "Marit Osei"


def test_the_put_back_list_says_who_took_out_and_who_put_back():
    day = Day().morning().when("8:00").item("put_back", "iso1", "p1", what="link X4")
    day.when("9:10").says(PAVEL)
    day.act("put_back", isolation="iso1", item="p1", torque="20 N m")
    (isolation,) = sheet(day)["isolations"]
    assert isolation["return_tables"][0]["rows"] == [
        ["link X4", "Marit Osei, 08:00", "Pavel Lind, 09:10, 20 N m"]
    ]


def test_a_crew_that_ended_makes_room_for_a_blank_one():
    day = Day().morning().when("15:00").act("end_crew", crew="crew1")
    (crew,) = sheet(day)["crews"]
    assert crew["title"] == "Crew of a shift"
