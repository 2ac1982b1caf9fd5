"""Times from records on the pages: sent, measured, recorded as a tablet's reading."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from io import BytesIO
from uuid import UUID

import pytest
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from models.services.setup import assets
from models.waveform.parts import Sent
from tests.scenario import CR, OWNER, RT, TECHNICIAN, Work, fixed_id
from tests.waveform_records import Made, configuration, data, pair, plain
from tests.webapp.desk import Desk, Page

DeskAt = Callable[[str], Desk]
# Twice the pickup of 480 A, on the secondary of 800/5: the curve takes 14.05 s.
SHOT = Made(
    rates=((1200.0, 15.0),),
    trip=(14.2253,),
    amperes=960 * 5 / 800,
    hz=60,
    kind="BINARY",
    revision="1999",
)


class Card:
    """A relay's card open for readings now, and a technician at it."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        with desk.work() as work:
            self.id: UUID = work.card("relay 51", RT).id
            work.at = datetime.now(UTC) - timedelta(minutes=30)
            work.confirm("relay 51", RT)
            assets.add_calibration(
                work.session,
                calibration_id=fixed_id("calibrated today"),
                instrument_id=fixed_id("RT-1"),
                calibrated_on=work.at.date() - timedelta(days=9),
                due_on=work.at.date() + timedelta(days=99),
                certificate_no="N-1",
                laboratory="Plinth Calibration",
            )
        self.page = f"/waveforms/cards/{self.id}"
        self.visitor = desk.person(TECHNICIAN)

    def send(self, *files: Sent) -> TestResponse:
        """Send the files of a record by the page's form."""
        shown = self.visitor.get(self.page)
        sent = {
            "csrf_token": shown.fields["csrf_token"],
            "files": [FileStorage(BytesIO(one.data), one.name) for one in files],
        }
        boundary, body = encode_multipart(sent)
        kind = f"multipart/form-data; boundary={boundary}"
        return self.visitor.client.post(self.page, data=body, content_type=kind)

    def point(self, at: int) -> str:
        """The identifier of a point."""
        with self.desk.work() as work:
            return str(work.card("relay 51", RT).points[at].id)

    def choice(self, **changed: str) -> dict[str, str]:
        """What is chosen: the second point, from the onset to the trip."""
        return {
            "start": "onset:0",
            "end": "0",
            "point": self.point(1),
            "instrument": str(fixed_id("RT-1")),
            "side": "P",
            **changed,
        }

    def record(self, page: str, **chosen: str) -> TestResponse:
        """Record what is chosen."""
        return self.visitor.post(page, **self.choice(**chosen))


@pytest.fixture
def card(desk_at: DeskAt) -> Card:
    """A round under way."""
    return Card(desk_at("opened"))


def relay(work: Work) -> tuple[list[str], list[str], dict[str, str]]:
    """Return readings, notes and verdicts of the relay's card."""
    facts = work.facts("relay 51", RT)
    texts = [one.text for one in facts.readings]
    notes = [one.text for one in facts.notes]
    return texts, notes, work.verdicts("relay 51", RT)


def test_a_time_is_measured_seen_and_recorded_once(card: Card) -> None:
    answer = card.send(*pair(SHOT))
    page = card.visitor.follow(answer)
    assert "A time from shot.zip" in page.headline
    address = answer.headers["Location"]
    query = "&".join(f"{name}={value}" for name, value in card.choice().items())
    seen = card.visitor.get(f"{address}?{query}")
    assert "14.03 s" in seen.text
    assert "Nothing is stored yet" in seen.text
    assert "960.0 A primary" in seen.text
    assert "another current than the point" not in seen.text
    for expected in ("is recorded", "nothing is new"):
        assert expected in card.visitor.follow(card.record(address)).text
    with card.desk.work() as work:
        texts, notes, verdicts = relay(work)
    assert len(texts) == len(notes) == 1
    assert abs(float(texts[0]) - 14.0253) < 0.0025
    assert "the onset of IA" in notes[0]
    assert "shot.zip" in notes[0]
    assert list(verdicts.values()) == ["within"]
    again = card.send(*pair(SHOT)[::-1])
    assert again.headers["Location"] == address


def test_a_second_shot_at_a_point_is_a_retest_with_a_reason(card: Card) -> None:
    first = card.send(*pair(SHOT)).headers["Location"]
    card.record(first)
    second = card.send(
        *pair(Made(**{**vars_of(SHOT), "trip": (14.3,)}), "again")
    ).headers["Location"]
    refused = Page(card.record(second))
    assert refused.status == 422
    assert "measured again" in refused.text
    card.record(second, reason="The first was taken warm.", applied="measured")
    with card.desk.work() as work:
        readings = work.facts("relay 51", RT).readings
    assert [one.reason for one in readings] == [None, "The first was taken warm."]
    assert readings[1].conditions["applied_a"] == pytest.approx(960, rel=0.005)


def vars_of(made: Made) -> dict[str, object]:
    return {name: getattr(made, name) for name in Made.__dataclass_fields__}


SAID = {
    "no trip": (Made(trip=()), "does not change after the start"),
    "another current": (Made(amperes=3.0, base="P"), "shows another current"),
    "several": (Made(trip=(0.4, 0.45, 0.6)), "operates 2 times"),
    "closed at rest, declared open": (
        Made(closed_at_rest=True, normal=0),
        "count from its state just before the start",
    ),
}


@pytest.mark.parametrize(("made", "words"), SAID.values(), ids=SAID)
def test_what_has_to_be_looked_at_is_said(card: Card, made: Made, words: str) -> None:
    address = card.send(*pair(made)).headers["Location"]
    query = "&".join(f"{name}={value}" for name, value in card.choice().items())
    assert words in card.visitor.get(f"{address}?{query}").text


def test_a_record_that_is_wrong_is_refused_and_nothing_is_kept(card: Card) -> None:
    rows = data(SHOT)
    short = plain(configuration(SHOT), rows[: len(rows) // 2])
    time_base = pair(Made(by_stamps=True, digits=9))
    for files, words in (
        (short, "the data were cut"),
        (time_base, "its time is in another unit"),
    ):
        page = Page(card.send(*files))
        assert page.status == 422
        assert words in page.faults["files"]
    assert "None yet" in card.visitor.get(card.page).text


def test_a_closed_card_takes_no_time_and_says_why(desk_at: DeskAt) -> None:
    card = Card.__new__(Card)
    card.desk = desk_at("opened")
    with card.desk.work() as work:
        card.id = work.card("relay 51", RT).id
        other = work.card("breaker 52", CR).id
    card.page = f"/waveforms/cards/{card.id}"
    card.visitor = card.desk.person(TECHNICIAN)
    address = card.send(*pair(SHOT)).headers["Location"]
    page = Page(card.record(address))
    assert page.status in (409, 422)
    with card.desk.work() as work:
        assert relay(work)[0] == []
    assert card.visitor.get(f"/waveforms/cards/{other}").status == 409
    assert card.desk.person(OWNER).get(card.page).status in (403, 404)


def test_a_record_of_100_000_samples_is_drawn_in_less_than_100_kb(card: Card) -> None:
    made = Made(rates=((10_000.0, 10.0),), trip=(5.0,), kind="BINARY", more_status=9)
    page = card.visitor.follow(card.send(*pair(made)))
    drawing = page.html[page.html.index('<svg class="drawing') :]
    assert len(drawing[: drawing.index("</svg>")]) < 100_000
