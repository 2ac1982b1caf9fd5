"""A file for several cards of a round: found by cell and apparatus, all or nothing."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from io import BytesIO
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

import openpyxl
import pytest
from sqlalchemy.orm import Session
from werkzeug.datastructures import FileStorage
from werkzeug.test import encode_multipart

from models.schema import Apparatus, Cell, Lineup
from tests.scenario import CR, OWNER, TECHNICIAN, ZONE, Work, fixed_id, lineup_id
from tests.webapp.desk import Desk

OPENED = ("breaker 52", "breaker 62")  # in the cells 1 and 2
Rows = list[list[object]]


class RoundFile:
    """A round with two open cards of contact resistance, and a technician at it."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        with Session(desk.app.extensions["engine"]) as session:
            second_cell(session)
            work = Work.begin(session, at=datetime.now(UTC) - timedelta(minutes=25))
            self.round_id = work.round_id
            self.points = {
                label: [point.label for point in work.card(label, CR).points]
                for label in OPENED
            }
            self.times = {}  # at which each card is open, as the site's clock says
            for label in OPENED:
                work.confirm(label, CR)
                at = work.tick(minutes=1).astimezone(ZoneInfo(ZONE))
                self.times[label] = at.strftime("%Y-%m-%d %H:%M:%S")
                work.tick(minutes=1)
            session.commit()
        self.instrument = fixed_id("CR-1")
        self.page = f"/readings-file/rounds/{self.round_id}"
        self.visitor = desk.person(TECHNICIAN)

    def rows(self) -> Rows:
        """A row for each point of the open cards."""
        return [
            [cell, label, point, f"4{at}.5", self.times[label]]
            for cell, label in enumerate(OPENED, start=1)
            for at, point in enumerate(self.points[label])
        ]

    def send(self, data: bytes, name: str = "lineup.csv") -> str:
        """Send a file; return the address of its columns."""
        shown = self.visitor.get(self.page)
        sent = {
            "csrf_token": shown.fields["csrf_token"],
            "file": FileStorage(BytesIO(data), name),
        }
        boundary, body = encode_multipart(sent)
        kind = f"multipart/form-data; boundary={boundary}"
        answer = self.visitor.client.post(self.page, data=body, content_type=kind)
        return str(answer.headers["Location"])

    def chosen(self, **other: str) -> dict[str, str]:
        """What is chosen on the page of the columns."""
        return {
            "instrument": str(self.instrument),
            "test": CR,
            "sheet": "",
            "header": "1",
            "cell": "0",
            "apparatus": "1",
            "point": "2",
            "value": "3",
            "taken": "4",
            "unit_given": "µΩ",
            "given-test_current_a": "100",
            "given-temperature_c": "20",
        } | other

    def look(self, address: str, chosen: Mapping[str, str]) -> str:
        """Return the page of the rows as they would be."""
        return self.visitor.get(f"{address}?{urlencode(chosen)}").text

    def texts(self) -> list[str]:
        """What was read on the open cards, and what was not to be."""
        with self.desk.work() as work:
            return [
                reading.text
                for label in OPENED
                for reading in work.facts(label, CR).readings
            ]


HEADINGS: list[object] = ["Cell", "Apparatus", "Point", "Value", "Time"]


def as_csv(rows: Rows) -> bytes:
    """Return the rows as a test set exports them."""
    lines: Rows = [HEADINGS, *rows]
    return "\n".join(";".join(map(str, row)) for row in lines).encode()


def as_workbook(rows: Rows, merged: str) -> bytes:
    """Return the rows as a workbook with an area of merged cells."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (HEADINGS, *rows):
        sheet.append(row)
    sheet.merge_cells(merged)
    kept = BytesIO()
    book.save(kept)
    return kept.getvalue()


def second_cell(session: Session) -> None:
    """Add a cell with a breaker to the lineup."""
    first = session.get_one(Lineup, lineup_id()).cells[0]
    cell = Cell(
        id=fixed_id("cell 2"),
        lineup_id=first.lineup_id,
        position=2,
        number="2",
        name="Feeder",
        kind=first.kind,
        bus=first.bus,
    )
    session.add(cell)
    session.flush()
    breaker = next(one for one in first.apparatus if one.kind == "breaker")
    session.add(
        Apparatus(
            id=fixed_id("breaker 62"),
            site_id=breaker.site_id,
            cell_id=cell.id,
            position=1,
            kind="breaker",
            label="breaker 62",
            nameplate=breaker.nameplate,
        )
    )
    session.flush()
    session.expire_all()


@pytest.fixture
def file(desk_at: Callable[[str], Desk]) -> RoundFile:
    """A round under way."""
    return RoundFile(desk_at("place"))


def test_a_file_is_recorded_on_all_its_cards_once_and_remembered(
    file: RoundFile,
) -> None:
    address = file.send(as_csv(file.rows()))
    text = file.look(address, file.chosen())
    assert "6 rows for 2 cards" in text, text
    assert file.texts() == []
    for said in ("6 readings of lineup.csv are", "6 were on record already"):
        answer = file.visitor.post(address, **file.chosen())
        assert said in file.visitor.follow(answer).text
    assert sorted(file.texts()) == sorted(str(row[3]) for row in file.rows())
    offered = file.visitor.get(f"{address}?instrument={file.instrument}")
    assert "Columns as on" in offered.text
    assert offered.chosen["test"] == CR
    assert offered.chosen["apparatus"] == "1"
    assert file.desk.person(OWNER).get(file.page).status in (403, 404)


# What is written into a row -> what is said of it.
ROWS_AT_FAULT: dict[str, tuple[dict[int, str], str]] = {
    "a second row of headings": (
        {0: "", 1: "", 2: "", 3: "(micro-ohm)", 4: ""},
        "If this is a second row of headings: the row of the headings is 2.",
    ),
    "a cell that is not there": (
        {0: "99"},
        "A: Cell: No cell of this round is called “99”.",
    ),
    "an apparatus of another cell": (
        {1: "breaker 62"},
        "No “breaker 62” with a card of contact resistance in the cell, but ",
    ),
    "a point that is not on the card": (
        {2: "pole Z"},
        "This card has no point “pole Z”.",
    ),
    "a point twice, its apparatus in another way": (
        {1: "52"},
        "has the same point: leave one of them out.",
    ),
    "no cell": ({0: ""}, "A: Cell: The cell is missing."),
    "no apparatus": ({1: ""}, "B: Apparatus: The apparatus is missing."),
}
CHOICES_AT_FAULT = {
    "a unit that does not fit": ({"unit_given": "GOhm"}, "GOhm"),
    "no column says whose": (
        {"cell": "", "apparatus": ""},
        "Choose the column of the cell, of the apparatus, or both.",
    ),
    "no test": ({"test": ""}, "Choose the test."),
}


def test_each_fault_is_said_and_nothing_recorded(file: RoundFile) -> None:
    good = file.rows()
    bad = [
        [said.get(at, text) for at, text in enumerate(good[0])]
        for said, _ in ROWS_AT_FAULT.values()
    ]
    address = file.send(as_csv([bad[0], *good, *bad[1:]]))
    text = file.look(address, file.chosen())
    for name, (_, words) in ROWS_AT_FAULT.items():
        assert words in text, name
    for name, (other, words) in CHOICES_AT_FAULT.items():
        assert words in file.look(address, file.chosen(**other)), name
    assert file.visitor.post(address, **file.chosen()).status_code == 422
    good[5][3] = "=40+1"
    address = file.send(as_workbook(good, "A2:A4"), "lineup.xlsx")
    text = file.look(address, file.chosen(sheet="Sheet"))
    said = "part of the merged cells A2:A4: unmerge them, and write the value into each"
    assert said in text
    assert "D: Value: The cell holds a formula without a stored result" in text
    assert file.texts() == []


def test_a_card_that_is_signed_or_not_open_takes_nothing(file: RoundFile) -> None:
    with file.desk.work() as work:
        work.fill("breaker 52", CR)
        held = work.facts("breaker 52", CR)
    address = file.send(as_csv(file.rows()))
    text = file.look(address, file.chosen(reason="measured again"))
    assert "This card is signed; the lead can return it to you." in text
    assert "3 with a fault" in text
    assert file.visitor.post(address, **file.chosen()).status_code == 422
    assert file.texts() == [one.text for one in held.readings]
