"""Counts, runs of numbers, times and words that must fit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.pdf import times
from webapp.pdf.fonts import BOLD, MONO, SANS, printable, width_of, wrapped
from webapp.pdf.numbering import code_runs, count, runs

RUNS = {
    "none": ([], ""),
    "one": ([4], "4"),
    "two in a row": ([4, 5], "4, 5"),
    "three in a row": ([4, 5, 6], "4–6"),
    "out of order": ([9, 1, 3, 2], "1–3, 9"),
    "twice": ([1, 1, 2], "1, 2"),
}


@pytest.mark.parametrize(("numbers", "wanted"), RUNS.values(), ids=RUNS)
def test_runs(numbers, wanted):
    assert runs(numbers) == wanted


CODES = {
    "none": ([], ""),
    "a list": (["G01", "G02", "G03"], "G01–G03"),
    "a gap": (["G01", "G03"], "G01, G03"),
    "two lists": (["G24", "G25", "IR1", "IR2", "IR3"], "G24, G25, IR1–IR3"),
    "no number": (["X", "Y"], "X, Y"),
    "nine to ten": (["P08", "P09", "P10"], "P08–P10"),
}


@pytest.mark.parametrize(("codes", "wanted"), CODES.values(), ids=CODES)
def test_code_runs(codes, wanted):
    assert code_runs(codes) == wanted


def test_count():
    assert count(1, "card") == "1 card"
    assert count(0, "card") == "0 cards"
    assert count(2, "deficiency", "deficiencies") == "2 deficiencies"


SPANS = {
    "none": ([], "–"),
    "one": (["2026-11-25T09:18:00Z"], "25 Nov 2026 09:18"),
    "one day": (
        ["2026-11-25T11:00:00Z", "2026-11-25T09:18:00Z"],
        "25 Nov 2026 09:18 to 11:00",
    ),
    "two days": (
        ["2026-11-25T09:18:00Z", "2026-11-26T07:00:00Z"],
        "25 Nov 2026 09:18 to 26 Nov 2026 07:00",
    ),
    "summer time": (["2026-07-01T09:18:00Z"], "1 Jul 2026 10:18"),
}


@pytest.mark.parametrize(("values", "wanted"), SPANS.values(), ids=SPANS)
def test_span(values, wanted):
    # Lisbon keeps UTC in winter and an hour more in summer.
    assert times.span(values, "Europe/Lisbon") == wanted


def test_days_and_dashes():
    assert times.day("2027-03-09") == "9 Mar 2027"
    assert times.day(None) == "–"
    assert times.at(None, "UTC") == "–"


@pytest.mark.parametrize("sign", [*"µΩ≤≥°±−×√–…·²ΔŁğñø\ufffd"])
def test_the_faces_have_the_signs_in_use(sign):
    for font in (SANS, BOLD, MONO):
        assert printable(sign, font) == sign


@given(st.text(max_size=120), st.floats(min_value=30, max_value=300))
@pytest.mark.property
def test_a_wrapped_text_fits_and_loses_nothing(text, width):
    rows = wrapped(text, SANS, 8.0, width)
    assert all(width_of(row, SANS, 8.0) <= width + 1e-6 for row in rows)
    shown = "".join("".join(printable(p, SANS).split()) for p in text.splitlines())
    assert "".join("".join(row.split()) for row in rows) == shown
