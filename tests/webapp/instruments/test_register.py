"""The register's pages, read as a person reads them."""

import base64
import csv
import io
import json
import re
from collections.abc import Callable
from typing import Any

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import LogEntry
from models.services.keeping.check_record import check_record
from tests.scenario import (
    ADMINISTRATOR,
    LEAD,
    OWNER,
    RIVAL,
    TECHNICIAN,
    fixed_id,
)
from tests.webapp.desk import Desk, Page, Visitor

LIST, NEW, IMPORT = "/instruments/", "/instruments/new", "/instruments/import"
TESTER: dict[str, Any] = {
    "tag": "IR-20",
    "name": "10 kV insulation tester",
    "serial": "9041",
    "maker": "",
    "type": "MX-10",
    "procedures": ["insulation_resistance"],
    "ranges-0-does": "reads",
    "ranges-0-low": "0",
    "ranges-0-high": "10",
    "ranges-0-unit": "GΩ",
    "ranges-0-pct_reading": "5",
    "ranges-0-fixed": "0.02",
    "ranges-1-does": "applies",
    "ranges-2-does": "applies",
    "ranges-2-supply": "dc",
    "ranges-2-low": "0.25",
    "ranges-2-high": "10",
    "ranges-2-unit": "kV",
}


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """A place with seven instruments, before any round."""
    return desk_at("place")


@pytest.fixture
def lead(desk: Desk) -> Visitor:
    """The lead."""
    return desk.person(LEAD)


def page_of(visitor: Visitor, tag: str) -> str:
    """Return the address of an instrument's page."""
    page = visitor.get(f"{LIST}?words={tag}")
    return next(one for one in page.links if re.fullmatch(LIST + "[0-9a-f-]{36}", one))


def added(visitor: Visitor) -> Page:
    return visitor.follow(visitor.post(NEW, **TESTER))


def test_an_instrument_is_added_changed_and_calibrated(
    desk: Desk, lead: Visitor
) -> None:
    shown = added(lead)
    assert shown.headline == "IR-20 · 10 kV insulation tester"
    for said in ("0 to 10 GΩ", "% of reading", "0.25 to 10 kV dc", "no calibration"):
        assert said in shown.text
    path = page_of(lead, "IR-20")
    change = lead.get(f"{path}/change")
    assert (change.fields["ranges-0-unit"], change.fields["ranges-0-high"]) == (
        "GOhm",
        "10",
    )
    changed = lead.post(
        f"{path}/change", **TESTER | {"serial": "9042", "seen": change.fields["seen"]}
    )
    assert "9042" in lead.follow(changed).text
    days = {"calibrated_on": "2026-01-05", "due_on": "2027-01-05"}
    entered = lead.post(
        f"{path}/calibrations",
        on=path,
        certificate_no="C-77",
        laboratory="Plinth",
        **days,
    )
    assert "C-77" in lead.follow(entered).text
    with Session(desk.app.extensions["engine"]) as session:
        log = list(session.scalars(select(LogEntry).order_by(LogEntry.seq)))[-3:]
        assert [one.action for one in log] == [
            "add instrument",
            "change instrument",
            "add calibration",
        ]
        assert json.loads(log[1].body) == {"serial": {"old": "9041", "new": "9042"}}
        assert check_record(session).faults == []


FAULTY: dict[str, tuple[dict[str, Any], set[str]]] = {
    "no name, a tag taken": ({"name": "", "tag": "IR-1"}, {"name", "tag"}),
    "used for nothing": ({"procedures": []}, {"procedures"}),
    "no number": ({"ranges-0-high": "1O"}, {"ranges-0-high"}),
    "the ends turned round": ({"ranges-2-high": "0.1"}, {"ranges-2-high"}),
    "a unit that is none": ({"ranges-2-unit": "furlong"}, {"ranges-2-unit"}),
    "half of the digits": ({"ranges-0-digits": "3"}, {"ranges-0-resolution"}),
}


def test_what_is_wrong_stands_at_its_field_and_what_was_typed_stays(
    lead: Visitor,
) -> None:
    for name, (given, places) in FAULTY.items():
        page = lead.faulty(NEW, **TESTER | given)
        assert set(page.faults) == places, name
        assert page.fields["type"] == "MX-10"
    assert "IR-20" not in lead.get(LIST).text


def test_more_ranges_are_offered_without_a_script(lead: Visitor) -> None:
    answer = lead.post(NEW, **TESTER | {"more": "1"})
    page = Page(answer)
    assert answer.status_code == 200
    assert "ranges-4-low" in page.fields
    assert page.fields["ranges-0-fixed"] == "0.02"
    assert "IR-20" not in lead.get(LIST).text


def test_two_who_change_one_instrument_do_not_undo_each_other(lead: Visitor) -> None:
    added(lead)
    path = page_of(lead, "IR-20")
    seen = lead.get(f"{path}/change").fields["seen"]
    lead.post(f"{path}/change", **TESTER | {"serial": "first", "seen": seen})
    answer = lead.post(f"{path}/change", **TESTER | {"serial": "second", "seen": seen})
    page = Page(answer)
    assert page.status == 409
    assert "changed by somebody else" in page.text
    assert "first" in lead.get(path).text


def test_the_list_says_what_needs_attention_and_is_searched(
    desk_at: Callable[[str], Desk], lead: Visitor
) -> None:
    shown = added(lead)
    assert shown.status == 200
    text = lead.get(LIST).text
    assert text.index("IR-DUE") < text.index("IR-20")  # lapsed before none at all
    assert "IR-ALIEN" not in text
    found = lead.get(f"{LIST}?words=mx-").text
    assert "IR-20" in found
    assert "CR-1" not in found
    assert "No instrument is like that." in lead.get(f"{LIST}?words=elephant").text
    assert "This list ends before" in lead.get(f"{LIST}?page=9").text
    due = lead.get(f"{LIST}?state=none").text
    assert "IR-20" in due
    assert "IR-DUE" not in due


def test_a_calibration_entered_amiss_is_refused_or_removed(lead: Visitor) -> None:
    added(lead)
    path = page_of(lead, "IR-20")
    given = {"certificate_no": "C-1", "laboratory": "Plinth"}
    for days, places in (
        ({"calibrated_on": "", "due_on": "x"}, {"calibrated_on", "due_on"}),
        ({"calibrated_on": "2026-01-02", "due_on": "2026-01-02"}, {"due_on"}),
        ({"calibrated_on": "2199-01-02", "due_on": "2200-01-02"}, {"calibrated_on"}),
    ):
        page = lead.faulty(f"{path}/calibrations", on=path, **given, **days)
        assert set(page.faults) == places
    days = {"calibrated_on": "2026-01-02", "due_on": "2027-01-02"}
    lead.post(f"{path}/calibrations", on=path, **given, **days)
    page = lead.faulty(f"{path}/calibrations", on=path, **given, **days)
    assert set(page.faults) == {"certificate_no"}
    remove = next(
        part.split('"')[0]
        for part in lead.get(path).html.split('action="')
        if "/remove" in part.split('"')[0]
    )
    shown = lead.follow(lead.post(remove, on=path))
    assert "None yet" in shown.text


def test_a_retired_instrument_is_offered_no_more(lead: Visitor) -> None:
    added(lead)
    path = page_of(lead, "IR-20")
    assert "retired" in lead.follow(lead.post(f"{path}/retire", on=path)).text
    shown = lead.follow(lead.post(f"{path}/retire", on=path, back="1"))
    assert "offered on cards again" in shown.text


def test_the_list_goes_out_as_a_table_and_comes_in_again(
    desk: Desk, lead: Visitor
) -> None:
    added(lead)
    sent = lead.client.get("/instruments/register.csv?words=IR-20").get_data()
    rows = list(csv.DictReader(io.StringIO(sent.decode())))
    assert [row["tag"] for row in rows] == ["IR-20"]
    assert rows[0]["reads"] == "0..10 GOhm: 5% + 0.02"
    assert rows[0]["applies"] == "0.25..10 kV dc"
    table = sent.replace(b"IR-20", b"IR-21")
    page = Page(lead.post(IMPORT, table=(io.BytesIO(table), "any.name")))
    assert page.status == 200
    assert "IR-21" in page.text
    assert "IR-21" not in lead.get(LIST).text  # only shown
    kept = base64.b64encode(table).decode()
    answer = lead.post(f"{IMPORT}/store", on=IMPORT, kept=kept)
    assert "1 instrument is added." in lead.follow(answer).text
    again = lead.client.get("/instruments/register.csv?words=IR-21").get_data()
    assert again == table


BROKEN = {
    "an unknown column": ("tag,name,serial,procedures,colour", "'colour' is no column"),
    "a missing column": ("tag,name,serial", "the column procedures is missing"),
}


def test_a_table_that_is_wrong_is_refused_whole_with_its_places(lead: Visitor) -> None:
    head = "tag,name,serial,procedures,reads,calibrated_on,due_on,certificate_no"
    table = "\n".join(
        (
            f"{head},laboratory",
            "IR-1,tester,1,insulation_resistance,0..10 GOhm: 5%,,,,",
            "IR-30,tester,2,insulation,0..10 GOhm: 5%,,,,",
            "IR-31,,3,insulation_resistance,10..0 GOhm: 5%,2026-01-01,31/12/2026,C,L",
            "IR-31,tester,4,insulation_resistance,,,,,",
        )
    )
    page = Page(lead.post(IMPORT, table=(io.BytesIO(table.encode()), "t.csv")))
    assert page.status == 422
    for said in (
        "row 2, column A (tag): There is an instrument 'IR-1' already.",
        "row 3, column D (procedures): 'insulation' is no procedure.",
        "row 4, column B (name): Write what it is.",
        "row 4, column E (reads): '10..0 GOhm: 5%' is no range",
        "row 4, column G (due_on): Enter the day: 2026-03-31.",
        "row 5, column A (tag): 'IR-31' stands in row 4 already.",
    ):
        assert said in page.text
    for text, said in BROKEN.values():
        sent = (io.BytesIO(f"{text}\n1,2,3,4,5".encode()), "t.csv")
        assert said in Page(lead.post(IMPORT, table=sent)).text
    assert (
        "choose the file again"
        in Page(lead.post(f"{IMPORT}/store", on=IMPORT, kept="%")).text
    )
    assert "IR-30" not in lead.get(LIST).text


def test_the_table_to_fill_in_is_read_as_it_is(lead: Visitor) -> None:
    for name in ("template.csv", "template.xlsx"):
        data = lead.client.get(f"{IMPORT}/{name}").get_data()
        page = Page(lead.post(IMPORT, table=(io.BytesIO(data), name)))
        assert page.status == 200, page.text
        assert "IR-01" in page.text


def test_who_may_read_and_who_may_change(desk: Desk) -> None:
    technician = desk.person(TECHNICIAN)
    path = f"{LIST}{fixed_id('IR-1')}"
    assert "IR-1" in technician.get(path).headline
    for page in (NEW, f"{path}/change"):
        assert technician.get(page).status == 403
    assert technician.post(f"{path}/retire", on="/account/password").status_code == 403
    assert desk.person(OWNER).get(LIST).status == 403
    assert desk.person(RIVAL).get(path).status == 404
    assert desk.person(ADMINISTRATOR).get(NEW).status == 200
