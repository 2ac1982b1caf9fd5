"""Curves from records on the pages: of a table or a COMTRADE record, kept as rows."""

import math
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from sqlalchemy.orm import Session
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from models.services.setup import assets
from models.waveform.parts import Sent
from tests.procedure_proof import Proof
from tests.scenario import TECHNICIAN, fixed_id
from tests.waveform_records import Made, pair
from tests.webapp.desk import Desk, Page

SPEED = "contact_speed"
PLATE = {
    "speed_close_mps_min": 0.8,
    "speed_close_mps_max": 1.2,
    "speed_zone_from_mm": 4.0,
    "speed_zone_to_mm": 8.0,
}
PROOF = Proof(
    procedure=SPEED,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("breaker", "breaker 52", PLATE),
    unit="m/s",
    readings=(),
)


def travel(at_ms: float) -> float:
    """Return 12 mm at 1 m/s from 20 ms on, with a swing after it."""
    moved = min(max(at_ms - 20.0, 0.0), 12.0)
    past = max(at_ms - 32.0, 0.0)
    return moved + 0.8 * math.exp(-past / 5) * math.sin(past / 2) * (past > 0)


TABLE = "time (ms);travel (mm)\n" + "".join(
    f"{at / 10:g};{travel(at / 10):.4f}\n".replace(".", ",") for at in range(1201)
)


class Breaker:
    """A breaker's card of speeds, open for readings now, and a technician at it."""

    def __init__(self, url: str) -> None:
        self.desk = Desk(url)
        with Session(self.desk.app.extensions["engine"]) as session:
            work = PROOF.begin(session)
            work.at = datetime.now(UTC) - timedelta(minutes=3)
            work.confirm("breaker 52", SPEED)
            assets.add_calibration(
                session,
                calibration_id=fixed_id("today"),
                instrument_id=fixed_id("own"),
                calibrated_on=work.at.date() - timedelta(days=9),
                due_on=work.at.date() + timedelta(days=99),
                certificate_no="N-1",
                laboratory="Plinth Calibration",
            )
            self.page = f"/waveforms/cards/{work.card('breaker 52', SPEED).id}"
            session.commit()
        self.visitor = self.desk.person(TECHNICIAN)

    def send(self, *files: Sent) -> TestResponse:
        """Send the files by the page's form."""
        shown = self.visitor.get(self.page)
        sent = {
            "csrf_token": shown.fields["csrf_token"],
            "files": [FileStorage(BytesIO(one.data), one.name) for one in files],
        }
        boundary, body = encode_multipart(sent)
        kind = f"multipart/form-data; boundary={boundary}"
        return self.visitor.client.post(self.page, data=body, content_type=kind)


@pytest.fixture
def breaker(sqlite_url: str) -> Iterator[Breaker]:
    """A breaker to be read."""
    found = Breaker(sqlite_url)
    yield found
    found.desk.close()


def test_a_curve_of_a_table_is_kept_with_its_speed(breaker: Breaker) -> None:
    assert "Curve from a record" in breaker.visitor.get(breaker.page).text
    answer = breaker.send(Sent(name="travel.csv", data=TABLE.encode()))
    address = answer.headers["Location"]
    seen = breaker.visitor.follow(answer)
    assert "A curve from travel.csv" in seen.headline
    assert "Record 1.000 m/s with its curve" in seen.text
    assert "stroke 12.00 mm" in seen.text
    assert "Mean speed from 4 to 8 mm of its travel: 1.000 m/s." in seen.text
    assert "Nothing is stored yet" in seen.text
    posted = breaker.visitor.post(address)
    assert posted.status_code == 303, Page(posted).text
    done = breaker.visitor.follow(posted)
    assert "1.000 m/s at pole A, close, with its curve, is recorded." in done.text
    with breaker.desk.work() as work:
        (one,) = work.facts("breaker 52", SPEED).current
        assert one.judgement.verdict == "within"
    row = one.conditions["travel"]
    assert row.startswith("0:0 ")
    assert len(row.split()) <= 250


def test_what_cannot_be_a_curve_says_why(breaker: Breaker) -> None:
    made = Made(unit="V", rates=((2400.0, 0.3),), trip=(0.25,))
    answer = breaker.send(*pair(made))
    address = answer.headers["Location"]
    assert (
        "is in 'V', and the curve is in mm: say how many"
        in breaker.visitor.get(address).text
    )
    bad = {
        "time (ms),travel (mm)\n0,1\n2,3\n1,4\n": "does not rise from line 3 to line 4",
        "time (ms),travel (mm)\n0,1\n2,x\n": "Line 3 holds what is no number",
        "travel (mm),time (ms)\n0,1\n2,3\n": "first column is no time",
    }
    for text, said in bad.items():
        page = Page(breaker.send(Sent(name="bad.csv", data=text.encode())))
        assert (page.status, said in page.text) == (422, True), said
