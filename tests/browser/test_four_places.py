"""The same range is refused in the same words wherever a value is typed.

On the tablet and in the calculator's page by the JavaScript of both; in the
calculator, in a readings file and at the server by Python.
"""

import json
from typing import Any

import pytest
from click.testing import CliRunner
from playwright.sync_api import Page

from models.criteria import load
from models.errors import InputError
from models.services.field.round_document import procedures_json
from tests.scenario import CR, DW, IR, RT, VI, Work
from webapp.commands.judge import judge_command
from webapp.library.calculator import procedure_named, work_out

pytestmark = pytest.mark.browser

# procedure, apparatus of tests/scenario.py, a reading of it, field, typed, refused so
BAD: dict[str, tuple[str, str, str, str, str, str]] = {
    "colder than anything": (
        IR,
        "bus",
        "9.0",
        "temperature_c",
        "-300",
        "Temperature: -300 must be between -60 and 250 °C.",
    ),
    "air as hot as an oven": (
        IR,
        "bus",
        "9.0",
        "air_temperature_c",
        "61",
        "Air temperature: 61 must be between -60 and 60 °C.",
    ),
    "more humid than can be": (
        IR,
        "bus",
        "9.0",
        "humidity_pct",
        "150",
        "Relative humidity: 150 must be between 0 and 100 %.",
    ),
    "volts typed as kilovolts": (
        IR,
        "bus",
        "9.0",
        "test_kv",
        "2500",
        "Test voltage: 2500 must be between 0 and 500 kV.",
    ),
    "a current below zero": (
        CR,
        "breaker 52",
        "40",
        "test_current_a",
        "-0.5",
        "Test current: -0.5 must be between 0 and 100000 A.",
    ),
    "held for longer than a day": (
        VI,
        "breaker 52",
        "held",
        "duration_s",
        "86401",
        "Held for: 86401 must be between 0 and 86400 s.",
    ),
    "a pickup of nothing": (
        RT,
        "relay 51",
        "5.9",
        "measured_pickup_a",
        "0",
        "Pickup as measured: 0 must be above 0 and at most 100000 A.",
    ),
    "a decimal comma": (
        DW,
        "bus",
        "held",
        "humidity_pct",
        "45,5",
        "Relative humidity: '45,5' has a comma: write the decimal point as '.', and no "
        "thousands separators.",
    ),
    "a word": (
        CR,
        "breaker 52",
        "40",
        "temperature_c",
        "warm",
        "Temperature: 'warm' is not a number: write it like 4.2.",
    ),
    "a bound": (
        CR,
        "breaker 52",
        "40",
        "temperature_c",
        ">20",
        "Temperature: '>20' is not a plain number.",
    ),
}
TABLET = """async ([asks, name, typed]) => {
  const { readConditions } = await import("/static/field/preview.js");
  return readConditions(asks, { [name]: typed }).faults[name];
}"""
PAGE = """async ([field, typed]) => {
  const { readField } = await import("/static/field/read_field.js");
  return readField(field, typed).fault;
}"""


def in_calculator(procedure: str, name: str, typed: str) -> list[str]:
    """Return what the calculator says at the field."""
    given = {"value": "1", "outcome": "", name: typed}
    with pytest.raises(InputError) as caught:
        work_out(procedure_named(procedure), given, load())
    return [f.message for f in caught.value.faults if f.field == name]


def in_file(procedure: str, text: str, name: str, typed: str) -> str:
    """Return what `witnessmark judge` says of a file with that cell."""
    unit = procedures_json()[procedure]["default_unit"]
    csv = f'id,test,value,unit,{name}\nr,{procedure},{text},{unit},"{typed}"\n'
    return CliRunner().invoke(judge_command, ["-"], input=csv).stderr.strip()


def at_server(work: Work, case: tuple[str, ...]) -> list[dict[str, Any]]:
    """Return what the server answers to a reading with that condition."""
    procedure, label, text, name, typed, _ = case
    work.confirm(label, procedure)
    card = work.card(label, procedure)
    entry = work.reading(card, card.points[0], text)
    entry["conditions"] = {**entry["conditions"], name: typed}
    (answer,) = work.send(entry)
    faults: list[dict[str, Any]] = answer["faults"]
    return faults


def test_a_value_that_cannot_be_is_refused_alike_in_all_places(
    rule_reader: Page, confirmed: Work
) -> None:
    procedures = json.loads(json.dumps(procedures_json()))
    for case, row in BAD.items():
        procedure, _, text, name, typed, said = row
        asks = procedures[procedure]["asks"]
        about = next(ask["field"] for ask in asks if ask["name"] == name)
        assert rule_reader.evaluate(TABLET, [asks, name, typed]) == said, case
        assert rule_reader.evaluate(PAGE, [about, typed]) == said, case
        assert in_calculator(procedure, name, typed) == [said], case
        place = f"line 2, column {name}: "
        assert in_file(procedure, text, name, typed) == place + said, case
        faults = at_server(confirmed, row)
        assert [f["message"] for f in faults if f["field"] == name] == [said], case


# procedure, condition, what is typed, what the tablet sends
NO_NUMBERS = {
    "a yes": ("bolt_torque", "bolt_lubricated", "yes", True),
    "a no": ("bolt_torque", "bolt_lubricated", "no", False),
    "a text": ("meter_accuracy", "reference_unit", "kW", "kW"),
}
SENT = """async ([asks, name, typed]) => {
  const { readConditions } = await import("/static/field/preview.js");
  return readConditions(asks, { [name]: typed });
}"""


def test_what_is_no_number_is_read_on_the_tablet_as_its_field_holds_it(
    rule_reader: Page,
) -> None:
    procedures = json.loads(json.dumps(procedures_json()))
    for case, (procedure, name, typed, sent) in NO_NUMBERS.items():
        asks = procedures[procedure]["asks"]
        seen = rule_reader.evaluate(SENT, [asks, name, typed])
        assert seen == {"conditions": {name: sent}, "faults": {}}, case
