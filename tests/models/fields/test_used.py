"""What procedures and lineups name is in the table, and is for that."""

import pytest

from models.fields import field, fields
from models.judging.choices import METHODS, SUPPLIES
from models.procedures import PROCEDURES, Procedure
from models.services.setup.nameplate import LINEUP_PLATE

OF_A_PLATE = {
    one.name for role in ("nameplate", "relay", "site") for one in fields(role)
}
OF_A_SITE = {"contact_correction"}  # a setting, and no line of a plate
CONDITIONS = {one.name for one in fields("condition")}
COLUMNS = {one.name for one in fields("column")}

procedures = pytest.mark.parametrize("procedure", PROCEDURES.values(), ids=PROCEDURES)


@procedures
def test_what_a_card_asks_for_is_a_condition(procedure: Procedure) -> None:
    assert {ask["name"] for ask in procedure.asks} <= CONDITIONS


@procedures
def test_what_a_rule_rests_on_is_of_a_plate_or_a_column(procedure: Procedure) -> None:
    assert set(procedure.rests_on) - OF_A_SITE <= OF_A_PLATE
    assert set(procedure.columns) <= COLUMNS


def test_the_ratings_of_a_lineup_are_fields_of_a_plate() -> None:
    assert {"rated_kv", "level_ac_kv", "built_year", "serial"} <= set(LINEUP_PLATE)
    assert set(LINEUP_PLATE) <= OF_A_PLATE


def test_the_choices_asked_for_are_those_of_the_field() -> None:
    for procedure in PROCEDURES.values():
        for ask in procedure.asks:
            about = next(one for one in fields("condition") if one.name == ask["name"])
            assert set(ask["choices"]) <= set(about.choices)


def test_the_words_that_the_columns_of_the_core_know_are_those_of_the_fields() -> None:
    assert field("supply").choices == SUPPLIES
    assert set(METHODS) <= set(field("method").choices)


def test_every_temperature_is_asked_as_a_thermometer_shows_it() -> None:
    temperatures = [one for one in fields("condition") if one.unit in ("degC", "K")]
    assert len(temperatures) >= 3
    assert {one.said_unit for one in temperatures} == {"°C"}
