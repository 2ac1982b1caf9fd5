"""What would be required of an apparatus, procedure by procedure."""

import re

import pytest

from models.criteria.table_file import SUBJECTS
from models.procedures.procedure import GEARS
from tests.webapp.desk import Page, Visitor


def ask(reader: Visitor, gear: str, rated_kv: str, apparatus: str) -> Page:
    return reader.get(
        f"/library/required?gear={gear}&rated_kv={rated_kv}&apparatus={apparatus}"
    )


def part(page: Page, title: str) -> str:
    return page.text.split(f"{title} Try a reading")[1].split("Try a reading")[0]


def test_a_bus_of_metal_clad_gear_of_15_kv(reader: Visitor) -> None:
    page = ask(reader, "metal_clad", "15", "bus")
    insulation = part(page, "Insulation resistance").replace("\u00a0", " ")
    # ANSI/NETA MTS-2019 Table 100.1, read in a posted copy: 5000 MOhm, 2500 V dc
    assert "at least 5.000 GΩ" in insulation
    assert "test voltage at least 2.5 kV" in insulation
    assert "corrected to 20 °C" in insulation
    assert "By U where the accuracy" in insulation
    withstand = part(page, "Dielectric withstand").replace("\u00a0", " ")
    # Table 100.2, metal-clad: 27 kV ac, 37.5 kV dc
    assert "ac: holds 27 kV for 60 s" in withstand
    assert "dc: holds 37.5 kV for 60 s" in withstand
    assert "/library/tables/field_metal_clad" in page.links
    assert "Relay timing Try a reading" not in page.text


def test_what_is_not_known_is_said_and_is_no_limit(reader: Visitor) -> None:
    page = ask(reader, "gas_insulated", "27", "bus")
    assert re.search(
        r"Not known here\s+ac: No ac field level is known for this gear",
        part(page, "Dielectric withstand"),
    )


@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("apparatus", SUBJECTS)
def test_every_apparatus_of_every_gear_has_an_answer(
    reader: Visitor, gear: str, apparatus: str
) -> None:
    page = ask(reader, gear, "15.5", apparatus)
    assert page.status == 200
    assert page.chosen["gear"] == gear
    assert page.chosen["apparatus"] == apparatus
    assert "Tables that concern this apparatus" in page.text


BAD = {
    "nothing": ("", "rated_kv", "Enter a value."),
    "a word": ("fifteen", "rated_kv", "is not a number"),
    "a comma": ("15,5", "rated_kv", "comma"),
    "a bound": (">15", "rated_kv", "not a plain number"),
    "zero": ("0", "rated_kv", "0 must be above 0 and at most 500 kV"),
}


@pytest.mark.parametrize(("typed", "field", "says"), BAD.values(), ids=BAD)
def test_a_rating_that_cannot_be_stays_and_is_said_at_its_field(
    reader: Visitor, typed: str, field: str, says: str
) -> None:
    page = ask(reader, "metal_clad", typed, "bus")
    assert page.status == 422
    assert page.fields[field] == typed
    assert says in page.faults[field]


def test_a_choice_that_nobody_offered_is_refused(reader: Visitor) -> None:
    page = ask(reader, "paper", "15", "bus")
    assert page.status == 422
    assert "'paper' is none of" in page.faults["gear"]
