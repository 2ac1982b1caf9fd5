"""Nameplates and accuracies that cannot be are refused before a rule is made."""

import math
from typing import Any

import pytest

from models.errors import InputError
from models.procedures.plates import plate_names
from models.record.lineup_draft import draft_json
from models.record.read_lineup_draft import read_draft
from models.schema import Apparatus
from models.services.setup.check_instrument import check_instrument
from models.services.setup.programmes import planned_cards
from seed_demo.instruments import INSTRUMENTS
from seed_demo.lineups import LINEUPS, lineup_draft

RELAY: dict[str, Any] = {
    "curve": "iec_very_inverse",
    "pickup_a": 400,
    "time_dial": 0.3,
    "multiples": [2.0, 5.0],
}

PLACE = "cells.0.apparatus.0.plate."


def check_nameplate(plate: dict[str, Any], kind: str = "relay") -> None:
    """Read a lineup of one cell with one apparatus that has this plate."""
    apparatus = {"kind": kind, "label": "it", "plate": plate}
    cell = {"number": "1", "name": "one", "kind": "breaker", "bus": "bus"}
    read_draft(
        {
            "name": "L",
            "gear": "metal_clad",
            "ratings": {"rated_kv": 15.0},
            "sections": [{"name": "bus"}],
            "cells": [cell | {"apparatus": [apparatus]}],
        }
    )


REFUSED: dict[str, tuple[dict[str, Any], str, str]] = {
    "a pickup of nothing": (
        {"pickup_a": 0},
        "pickup_a",
        "Pickup: 0 must be above 0 and",
    ),
    "a negative pickup": (
        {"pickup_a": -400.0},
        "pickup_a",
        "Pickup: -400 must be above 0 and",
    ),
    "a dial of nothing": (
        {"time_dial": 0.0},
        "time_dial",
        "Time dial: 0 must be above 0",
    ),
    "a negative tolerance": (
        {"tolerance_pct": -5},
        "tolerance_pct",
        "Declared tolerance: -5 must be between 0 and 200 %.",
    ),
    "a pickup as text": (
        {"pickup_a": "400 A"},
        "pickup_a",
        "Pickup: '400 A' is not a number.",
    ),
    "a truth for a number": (
        {"time_dial": True},
        "time_dial",
        "Time dial: 'True' is not a",
    ),
    "no number at all": (
        {"time_dial": math.nan},
        "time_dial",
        "Time dial: 'nan' is out of all",
    ),
    "without end": (
        {"pickup_a": math.inf},
        "pickup_a",
        "Pickup: 'inf' is out of all",
    ),
    "beyond all proportion": (
        {"pickup_a": 1e30},
        "pickup_a",
        "Pickup: '1e+30' is out of",
    ),
    "a curve of no table": (
        {"curve": "straight"},
        "curve",
        "Curve: 'straight' is none of",
    ),
    "a rated voltage of nothing": (
        {"rated_kv": 0},
        "rated_kv",
        "Rated maximum voltage: 0 must be",
    ),
    "a conductor of another metal": (
        {"conductor": "zinc"},
        "conductor",
        "Conductor: 'zinc' is none of",
    ),
    "bands of no table": (
        {"bands": "class 5"},
        "bands",
        "Assigned-error bands by multiple: 'class 5'",
    ),
    "against nothing": (
        {"timed_against": "it"},
        "timed_against",
        "Timing judged against: 'it' is none of",
    ),
    "a ceiling of nothing": (
        {"ceiling_multiple": 0},
        "ceiling_multiple",
        "Curve flat above: 0 must be",
    ),
    "a pickup error below zero": (
        {"pickup_error_pct": -5},
        "pickup_error_pct",
        "Declared error of pickup: -5 must be at least 0",
    ),
    "a multiple of nothing": (
        {"multiples": [2, 0]},
        "multiples",
        "Test multiples of pickup: 0 must",
    ),
    "a multiple out of reach": (
        {"multiples": [1e7]},
        "multiples",
        "Test multiples of pickup: 10000000 must",
    ),
    "a field misspelt": (
        {"picup_a": "zero"},
        "picup_a",
        "the nameplate of a protection relay has no field “picup_a”.",
    ),
    "an accuracy on a plate": (
        {"humidity_pct": 5},
        "humidity_pct",
        "the nameplate of a protection relay has no “Relative humidity”.",
    ),
    "a year before switchgear": ({"built_year": 1492}, "built_year", "Year built: 14"),
    "half a year": ({"built_year": 2020.5}, "built_year", "Year built: 2020.5 must be"),
    "multiples as text": (
        {"multiples": "2, 5"},
        "multiples",
        "Test multiples of pickup: give the values",
    ),
}


@pytest.mark.parametrize(("fields", "field", "said"), REFUSED.values(), ids=REFUSED)
def test_what_no_nameplate_says_is_refused(
    fields: dict[str, Any], field: str, said: str
) -> None:
    kind = "breaker" if set(fields) <= plate_names("breaker") else "relay"
    with pytest.raises(InputError) as caught:
        check_nameplate(fields, kind)
    faults = caught.value.faults
    assert [fault.field for fault in faults] == [PLACE + field]
    assert faults[0].message.startswith(f"Cell 1, it: {said}")


def test_every_fault_is_said_at_once() -> None:
    with pytest.raises(InputError) as caught:
        check_nameplate({"pickup_a": 0, "time_dial": -1, "curve": "straight"})
    fields = {fault.field.removeprefix(PLACE) for fault in caught.value.faults}
    assert fields == {"pickup_a", "time_dial", "curve"}


ALLOWED: dict[str, dict[str, Any]] = {
    "a relay": RELAY,
    "no tolerance at all": {"tolerance_pct": 0, "tolerance_s": 0.0},
    "nothing given": {"pickup_a": None, "curve": "", "rated_a": None},
    "words": {"element": "51", "serial": "0"},
}


@pytest.mark.parametrize("fields", ALLOWED.values(), ids=ALLOWED)
def test_what_a_nameplate_may_say(fields: dict[str, Any]) -> None:
    check_nameplate(fields)


def test_every_plate_and_instrument_of_the_demo_can_be() -> None:
    for name in LINEUPS:
        read_draft(draft_json(lineup_draft(name)))
    for _, _, _, procedures, ranges in INSTRUMENTS:
        check_instrument(procedures, ranges)


def test_a_relay_without_a_pickup_asks_for_the_current_on_its_card() -> None:
    settings = {"curve": "iec_very_inverse", "time_dial": 0.3, "multiples": [2.0]}
    relay = Apparatus(kind="relay", label="relay", nameplate=settings)
    card = next(c for c in planned_cards(relay) if c.procedure == "relay_timing")
    assert [point.label for point in card.points] == ["0.95 × pickup", "2 × pickup"]
    assert all(point.given == {} for point in card.points)
