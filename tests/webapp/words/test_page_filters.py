"""Times, figures and changes as pages say them."""

from datetime import UTC, date, datetime

import pytest

from webapp.words.page_filters import figure, local_day, local_time, percent, tied

CHANGES = {
    "a rise": (30.2, "+30 %"),
    "a small rise": (0.21, "+0.2 %"),
    "a fall has a minus sign, not a hyphen": (-51.8, "\u221252 %"),
    "a small fall": (-0.44, "\u22120.4 %"),
    "just under ten": (9.96, "+10 %"),
    "none": (None, "–"),
}
FIGURES = {
    "three digits": (12.345, "12.3"),
    "small": (0.00123, "0.00123"),
    "large": (123456.0, "123 000"),
    "none": (None, "–"),
}
TIED = {
    "a unit": ("15 kV", "15\u00a0kV"),
    "several": ("25 kA 2 s · 60 Hz", "25\u00a0kA 2\u00a0s · 60\u00a0Hz"),
    "a sign": ("20 °C", "20\u00a0°C"),
    "no number": ("metal clad", "metal clad"),
}
MIDNIGHT = datetime(2026, 3, 2, 21, 5, tzinfo=UTC)


@pytest.mark.parametrize(("value", "said"), CHANGES.values(), ids=CHANGES)
def test_change(value: float | None, said: str) -> None:
    assert percent(value) == said


@pytest.mark.parametrize(("value", "said"), FIGURES.values(), ids=FIGURES)
def test_figure(value: float | None, said: str) -> None:
    assert figure(value) == said


@pytest.mark.parametrize(("text", "said"), TIED.values(), ids=TIED)
def test_number_tied_to_its_unit(text: str, said: str) -> None:
    assert tied(text) == said


def test_a_time_is_that_of_the_site() -> None:
    assert local_time(MIDNIGHT, "Pacific/Auckland") == "3 Mar 2026 10:05"
    assert local_time("2026-03-02T21:05:00Z", "America/Halifax") == "2 Mar 2026 17:05"
    assert local_time(None, "UTC") == "–"


def test_a_day_is_that_of_the_site() -> None:
    assert local_day(MIDNIGHT, "Pacific/Auckland") == "3 Mar 2026"
    assert local_day(date(2026, 3, 2), "Pacific/Auckland") == "2 Mar 2026"
    assert local_day(None) == "–"
