"""The two worked days of the reference on their one page: counted, and all in time.

The counts are those of the reference, section 3; the sentence is that of its section 5.
"""

from typing import Any
from zoneinfo import ZoneInfo

import pytest

from models.criteria.safety import changes, governs, registers
from models.record.safety_report.report import cards_safety, safety_report
from models.record.safety_report.told import ReportCard, Told
from tests.models.criteria.safety.working_days import (
    gas_insulated_day,
    metal_clad_day,
)
from tests.models.record.safety.played_day import PlayedDay
from tests.models.record.safety.test_worked_days import (
    GAS_INSULATED,
    GAS_INSULATED_VISITS,
    METAL_CLAD,
    METAL_CLAD_VISITS,
    play,
)
from webapp.pdf.safety_page import safety_page
from webapp.pdf.sheets import Sheets


def told(day: PlayedDay) -> Told:
    """Return a played day as the report is given it."""
    settings = day.book["settings"] | {"rule_set": "", "rule_set_text": ""}
    book = day.book | {
        "settings": settings,
        "governs": governs(),
        "registers": registers(),
        "changes": changes(),
    }
    cards = [
        ReportCard(
            id=card.id,
            sheet=n,
            cell=card.cell,
            readings=[
                {"at": row["at"], "by": row["by"], "name": "", "point": ""}
                for row in day.readings[card.id]
            ],
        )
        for n, card in enumerate(day.work.cards, start=1)
    ]
    return Told(
        book=book,
        every_act=day.acts,
        cards=cards,
        lineup="lineup",
        zone=ZoneInfo("Europe/Lisbon"),
        now=day.at,
    )


DAYS: dict[str, tuple[Any, ...]] = {
    "metal-clad": (metal_clad_day, METAL_CLAD, METAL_CLAD_VISITS, (23, 123, 69, 353)),
    "gas-insulated": (
        *(gas_insulated_day, GAS_INSULATED, GAS_INSULATED_VISITS),
        (10, 69, 29, 201),
    ),
}


@pytest.mark.parametrize(("work", "lists", "visits", "counts"), DAYS.values(), ids=DAYS)
def test_the_day_is_one_page_and_its_sentence_counts_it(
    work: Any, lists: Any, visits: str, counts: tuple[int, ...]
) -> None:
    day = play(work(), lists, visits)
    values, safety = told(day), day.safety()
    report = safety_report(values, safety)
    cards = report["cards"]
    assert counts == (cards["cards"], cards["before"], cards["after"], report["lines"])
    assert cards["in_time"] is True
    assert [one for one in report["exceptions"] if one["kind"] != "not_put_back"] == []
    (clearance,) = report["clearances"]
    assert clearance["returned"] is not None
    assert clearance["grounds_on"] == len(lists["ground"])
    assert clearance["counted"] == ["1", "1"]  # as the player types every number
    assert len(clearance["points"]) == len(lists["source"])
    each = cards_safety(values, safety)
    assert sum(one["before"] for one in each.values()) == counts[1]
    assert sum(one["after"] for one in each.values()) == counts[2]
    sheets = Sheets()
    safety_page(sheets, {"safety": report, "zone": "Europe/Lisbon"})
    assert len(sheets.pages) == 1
