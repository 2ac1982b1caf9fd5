"""Readings from a file on the pages: sent, mapped, tried, mended, recorded once."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from io import BytesIO
from uuid import UUID

import pytest
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from models.schema import Instrument
from tests.scenario import CR, OWNER, TECHNICIAN
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]


class Card:
    """A breaker's card open for readings now, and a technician at it."""

    def __init__(self, desk: Desk, *, opened: bool = True) -> None:
        self.desk = desk
        with desk.work() as work:
            card = work.card("breaker 52", CR)
            self.id: UUID = card.id
            self.labels = [point.label for point in card.points]
            if opened:
                work.at = datetime.now(UTC) - timedelta(minutes=20)
                work.confirm("breaker 52", CR)
        self.page = f"/readings-file/cards/{self.id}"
        self.visitor = desk.person(TECHNICIAN)

    def send(self, data: bytes, name: str = "set.csv") -> TestResponse:
        """Send a file by the page's form."""
        shown = self.visitor.get(self.page)
        sent = {
            "csrf_token": shown.fields["csrf_token"],
            "file": FileStorage(BytesIO(data), name),
        }
        boundary, body = encode_multipart(sent)
        kind = f"multipart/form-data; boundary={boundary}"
        return self.visitor.client.post(self.page, data=body, content_type=kind)

    def texts(self) -> list[str]:
        """What was read on the card."""
        with self.desk.work() as work:
            return [one.text for one in work.facts("breaker 52", CR).readings]


@pytest.fixture
def card(desk_at: DeskAt) -> Card:
    """A round under way."""
    return Card(desk_at("opened"))


def test_rows_are_tried_mended_recorded_once_and_remembered(card: Card) -> None:
    rows = "".join(f"{label};4{n},5\n" for n, label in enumerate(card.labels))
    data = f"Point;Value\n{rows}Nowhere;4,1\n".encode()
    address = card.send(data).headers["Location"]
    with card.desk.work() as work:
        instrument = next(
            one.id for one in work.session.query(Instrument) if CR in one.procedures
        )
    chosen = {
        "instrument": str(instrument),
        "sheet": "",
        "header": "1",
        "point": "0",
        "value": "1",
        "unit_given": "µΩ",
        "decimal": ",",
        "given-test_current_a": "100",
        "given-temperature_c": "20",
    }
    query = "&".join(f"{name}={value}" for name, value in chosen.items())
    tried = card.visitor.get(f"{address}?{query}").text
    assert "This card has no point “Nowhere”" in tried
    assert "temperature of the conductor is not known" not in tried
    no_unit = query.replace("µΩ", "bananas")
    assert "bananas" in card.visitor.get(f"{address}?{no_unit}").text
    assert card.visitor.post(address, **chosen).status_code == 422
    assert card.texts() == []
    out = str(len(card.labels) + 2)
    tried = card.visitor.get(f"{address}?{query}&left_out={out}").text
    assert "Nothing is stored yet" in tried, tried
    assert card.texts() == []
    for said in ("are recorded", "were on record already"):
        answer = card.visitor.post(address, **chosen, left_out=out)
        assert said in card.visitor.follow(answer).text
    assert card.texts() == [f"4{n}.5" for n in range(len(card.labels))]
    with card.desk.work() as work:
        facts = work.facts("breaker 52", CR)
    assert {one.device for one in facts.readings} == {"file set.csv"}
    assert [f"{card.labels[0]}: row 2" in one.text for one in facts.notes] == [True]
    assert card.send(data).headers["Location"] == address
    offered = card.visitor.get(f"{address}?instrument={instrument}")
    assert "Columns as on" in offered.text
    assert offered.chosen["decimal"] == ","


def test_a_file_on_a_card_that_is_not_open_or_not_ours(desk_at: DeskAt) -> None:
    card = Card(desk_at("opened"), opened=False)
    data = f"Point,Value\n{card.labels[0]},41\n".encode()
    address = card.send(data).headers["Location"]
    chosen = {"header": "1", "point": "0", "value": "1", "unit_given": "µΩ"}
    assert card.visitor.post(address, **chosen).status_code == 422
    assert card.texts() == []
    assert card.send(b"PK\x03\x04 no workbook").status_code == 422
    assert card.desk.person(OWNER).get(card.page).status in (403, 404)
