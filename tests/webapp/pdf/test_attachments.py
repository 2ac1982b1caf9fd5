"""The data inside: a CSV that anybody reads, and what its columns mean."""

import csv
import hashlib
import io
import json
import math

import pytest

from tests.webapp.pdf.sample_document import sample_document
from webapp.pdf import package_attachments


@pytest.fixture(scope="module")
def files():
    made = package_attachments(sample_document(), "root")
    return {one.name: one.data for one in made}


@pytest.fixture(scope="module")
def rows(files):
    return list(csv.DictReader(io.StringIO(files["readings.csv"].decode())))


def test_the_record_round_trips(files):
    assert json.loads(files["record.json"]) == sample_document()


def test_every_reading_is_a_row(rows):
    wanted = [r for card in sample_document()["cards"] for r in card["readings"]]
    assert [row["reading_id"] for row in rows] == [r["id"] for r in wanted]
    assert [row["text"] for row in rows] == [r["text"] for r in wanted]


CELLS = {
    "as typed": (1, "text", ">200"),
    "its unit": (1, "unit", "GOhm"),
    "corrected is in the base unit": (0, "corrected_unit", "MOhm"),
    "the limit": (0, "limit_low", "5000.0"),
    "the limit's unit": (0, "limit_unit", "MOhm"),
    "no uncertainty of a bound": (1, "uncertainty", ""),
    "a condition": (0, "temperature_c", "31.0"),
    "a condition not given": (4, "temperature_c", ""),
    "a reason to supersede": (
        3,
        "superseding_reason",
        "barrier wiped dry, lead re-seated",
    ),
    "a disposition": (6, "disposition", "use_as_is"),
    "none": (5, "disposition", ""),
    "an outcome": (11, "text", "held"),
    "an outcome has no unit": (11, "unit", ""),
    "a withstand's limit is a voltage": (11, "limit_unit", "kV"),
}


@pytest.mark.parametrize(("at", "column", "wanted"), CELLS.values(), ids=CELLS)
def test_cells(rows, at, column, wanted):
    assert rows[at][column] == wanted


FORMULAS = {
    "a formula": ("=1+1", "'=1+1"),
    "a command": ("@SUM(A1)", "'@SUM(A1)"),
    "a link": ("+HYPERLINK(A1)", "'+HYPERLINK(A1)"),
    "a dash before a word": ("-wet", "'-wet"),
    "a word": ("wiped dry", "wiped dry"),
    "a number below zero": ("-3.2", "-3.2"),
    "one with an exponent": ("-3.2E-5", "-3.2E-5"),
}


@pytest.mark.parametrize(("typed", "cell"), FORMULAS.values(), ids=FORMULAS)
def test_no_cell_is_a_formula_and_the_record_keeps_what_was_typed(typed, cell):
    document = json.loads(json.dumps(sample_document()))
    card = next(c for c in document["cards"] if len(c["readings"]) > 3)
    reading = card["readings"][3]
    reading |= {"reason": typed, "text": typed}
    made = {one.name: one.data for one in package_attachments(document, "root")}
    rows = csv.DictReader(io.StringIO(made["readings.csv"].decode()))
    (row,) = [one for one in rows if one["reading_id"] == reading["id"]]
    assert (row["superseding_reason"], row["text"]) == (cell, cell)
    kept = [r for c in json.loads(made["record.json"])["cards"] for r in c["readings"]]
    (found,) = [one for one in kept if one["id"] == reading["id"]]
    assert found["reason"] == typed


def test_the_superseded_reading_points_to_its_successor(rows):
    assert rows[2]["superseded_by"] == rows[3]["reading_id"]
    assert rows[3]["supersedes"] == rows[2]["reading_id"]


def test_lines_end_as_rfc_4180_has_them(files):
    assert files["readings.csv"].count(b"\r\n") == 1 + 13


def test_the_description_fits_the_file(files, rows):
    package = json.loads(files["datapackage.json"])
    (resource,) = package["resources"]
    data = files["readings.csv"]
    assert resource["bytes"] == len(data)
    assert resource["hash"] == f"sha256:{hashlib.sha256(data).hexdigest()}"
    fields = resource["schema"]["fields"]
    assert [f["name"] for f in fields] == list(rows[0])
    assert resource["schema"]["primaryKey"] == "reading_id"


def test_numbers_are_numbers(files, rows):
    package = json.loads(files["datapackage.json"])
    fields = package["resources"][0]["schema"]["fields"]
    for name in [f["name"] for f in fields if f["type"] == "number"]:
        for row in rows:
            assert row[name] == "" or math.isfinite(float(row[name]))


# UCUM codes (ucum.org): c/s column unit.
UNITS = {
    "temperature_c": "Cel",
    "air_temperature_c": "Cel",
    "humidity_pct": "%",
    "test_kv": "kV",
    "duration_s": "s",
    "test_current_a": "A",
    "applied_a": "A",
}


@pytest.mark.parametrize(("name", "code"), UNITS.items())
def test_units_are_ucum_codes(files, name, code):
    package = json.loads(files["datapackage.json"])
    fields = {f["name"]: f for f in package["resources"][0]["schema"]["fields"]}
    assert fields[name]["unit"] == code
