"""The safety sheet as a reader of another make finds it."""

import pytest

from models.record.safety_sheet.sheet import safety_sheet
from tests.data.safety_day import Day
from tests.models.record.safety_report.told_day import BOOK, told, work
from tests.webapp.pdf.outside import page_texts
from webapp.pdf import render_safety_sheets

pytestmark = pytest.mark.needs("poppler")


def document(day: Day):
    """Return a sheet's document, as the service makes it."""
    values, safety = told(day)
    return {
        "made_at": values.now,
        "zone": "Europe/Lisbon",
        "revision": 0,
        "site": {"name": "Saltmarsh pumping works"},
        "lineup": {"name": "MV-1", "gear": "metal_clad"},
        "round": {"title": "Acceptance round 1"},
        **safety_sheet(values, safety.site(values.now)),
    }


def test_every_line_and_every_note_stands_on_paper(tmp_path):
    day = work(Day().morning())
    pdf = render_safety_sheets(document(day))
    whole = " ".join(page_texts(pdf, tmp_path))
    asked = [*BOOK["crew"], *BOOK["isolation"], *BOOK["point"]["cell1"]]
    asked += BOOK["returning"]
    # no set, no new shift, no switch, no confined space
    never = {"HV7a", "G07b", "G13c", "P04a", "G24a"}
    assert {code for code in asked if code not in whole} <= never
    for words in ("D-12", "G-2", "Tobias Vane", "07:20", "4711", "Entered 07:30"):
        assert words in whole
    assert BOOK["governs"] in whole
    assert "no record until" in whole


def test_a_note_that_is_longer_than_its_field_stands_whole_below(tmp_path):
    note = "the tie to bus B, held by the crew of another contractor until Friday"
    day = Day().morning().line("isolation", "iso1", "G04a", number=note)
    pages = page_texts(render_safety_sheets(document(day)), tmp_path)
    assert f"clearance number: {note}" in " ".join(pages)


def test_the_same_document_gives_the_same_bytes():
    made = document(Day())
    assert render_safety_sheets(made) == render_safety_sheets(made)


def test_a_blank_crew_sheet_is_one_page(tmp_path):
    pages = page_texts(render_safety_sheets(document(Day())), tmp_path)
    assert sum("Sheet" in page and "Crew of a shift" in page for page in pages) == 1
    assert all(f"{n} of {len(pages)}" in page for n, page in enumerate(pages, start=1))
