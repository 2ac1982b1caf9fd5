"""The gas page: what it answers, and what it refuses beside which field."""

from urllib.parse import urlencode

import pytest

from models.criteria.loader import table_files
from tests.webapp.desk import Page, Visitor

ASKED = {
    "pressure": "140",
    "unit": "kPa",
    "basis": "absolute",
    "air_kpa": "",
    "temperature_c": "20",
    "to_c": "-10",
}


def ask(reader: Visitor, **typed: str) -> Page:
    return reader.get(f"/library/gas?{urlencode({**ASKED, **typed})}")


@pytest.mark.parametrize("celsius", [-30, -20, -10, 0, 5, 10, 15, 25, 30, 40])
def test_the_printed_line_of_140_kpa_is_what_the_page_says(
    reader: Visitor, celsius: int
) -> None:
    """The reference table, row 140 kPa; both rounded to their last digits."""
    row = next(r for r in table_files()["sf6_fill"].rows if r["fill_kpa"] == 140)
    printed = row[f"at_{'minus_' if celsius < 0 else ''}{abs(celsius)}"]
    page = ask(reader, to_c=str(celsius))
    assert page.status == 200
    said = float(page.text.split(" kPa absolute")[0].split()[-1])
    assert said == pytest.approx(printed, abs=0.16)


def test_every_unit_and_the_gauge_give_the_same_pressure(reader: Visitor) -> None:
    gauge = ask(reader, pressure="40", basis="gauge", air_kpa="100")
    assert "125.1 kPa absolute" in gauge.text
    assert "25.12 kPa gauge" in gauge.text
    assert "40.00 kPa gauge + 100 kPa of air = 140.0 kPa" in gauge.text
    for pressure, unit in (("1.4", "bar"), ("0.14", "MPa"), ("20.3053", "psi")):
        assert "125.1 kPa absolute" in ask(reader, pressure=pressure, unit=unit).text


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"pressure": ""}, "pressure", "Enter a value"),
        ({"pressure": "1,4"}, "pressure", "comma"),
        ({"unit": "at"}, "unit", "Choose one"),
        ({"basis": "vacuum"}, "basis", "Choose one"),
        ({"basis": "gauge", "air_kpa": "0"}, "air_kpa", "between 50 and 110 kPa"),
        ({"temperature_c": "90"}, "temperature_c", "outside"),
        ({"to_c": "90"}, "to_c", "outside"),
        ({"pressure": "700", "to_c": "-30"}, "pressure", "liquid"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_stays(
    reader: Visitor, typed: dict[str, str], field: str, words: str
) -> None:
    page = ask(reader, **typed)
    assert page.status == 422
    assert words in page.faults[field]
    if field not in ("unit", "basis"):
        assert page.fields[field] == typed.get(field, "")


def test_an_empty_page_offers_what_is_usual(reader: Visitor) -> None:
    page = reader.get("/library/gas")
    assert page.fields["to_c"] == "20"
    assert page.fields["air_kpa"] == "101.325"
    assert "Nothing is typed yet" in page.text
