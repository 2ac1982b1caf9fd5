"""A day told act by act, as the report and the sheet are given it."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from models.record.safety import Safety, person_key
from models.record.safety_report.report import safety_report
from models.record.safety_report.told import ReportCard, Told
from tests.data.safety_book import BOOK as SAFETY_BOOK
from tests.data.safety_book import CELL_OF
from tests.data.safety_day import Day, clock

ZONE = ZoneInfo("Europe/Lisbon")  # the same as UTC in November
CARDS = ("ir1", "ir2", "rs2")
LABEL = {"unit": None, "kind": "text", "choices": [], "required": False}
BOOK = {
    **SAFETY_BOOK,
    "changes": {"lock": "a lock was taken off"},
    "registers": {"source": ["lock"], "ground": ["number"], "put_back": ["what"]},
    "fields": SAFETY_BOOK["fields"]
    | {"lock": LABEL | {"label": "Lock"}, "what": LABEL | {"label": "What"}},
}


def same(at: str | None, told_at: str) -> bool:
    """Whether two texts are the same moment."""
    return at is not None and moment(at) == moment(told_at)


def moment(at: str) -> datetime:
    return datetime.fromisoformat(at)


def told(day: Day, now: str = "18:00") -> tuple[Told, Safety]:
    """Return the acts of a day on three cards, and the core over them."""
    cards = [
        ReportCard(
            id=card,
            sheet=n,
            cell=CELL_OF[card],
            readings=[
                {**row, "by": person_key(row["by"]), "name": row["by"]["name"]}
                | {"point": f"A-G {place}"}
                for place, row in enumerate(day.readings.get(card, ()))
            ],
        )
        for n, card in enumerate(CARDS, start=1)
    ]
    scene = day.scene()
    safety = Safety(
        BOOK,
        scene["acts"],
        scene["readings"],
        scene["signed"],
        scene["cells"],
        scene["found_good"],
    )
    values = Told(
        book=BOOK,
        every_act=day.acts,
        cards=cards,
        lineup="north",
        zone=ZONE,
        now=clock(now),
    )
    return values, safety


def report(day: Day, now: str = "18:00") -> dict[str, Any]:
    return dict(safety_report(*told(day, now)))


def work(day: Day, card: str = "ir1") -> Day:
    """Test one card from its first line to its last: 7:40 to 7:50."""
    day.when("7:40").lines("test", card, "CR2a T2 T3 T5")
    day.when("7:42").read(card).when("7:43").read(card)
    day.act("dc_off", card=card, dc_s=0.0)
    return day.when("7:50").lines("after", card, "P01a G14a P03a CR6")
