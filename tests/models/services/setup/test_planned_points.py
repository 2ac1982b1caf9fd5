"""Points that come from a relay's settings, and those that a card tells one by one."""

from typing import Any

import pytest

from models.schema import Apparatus
from models.services.setup.planned_points import (
    PlannedPoint,
    differential_points,
    timing_points,
    voltage_points,
)
from models.services.setup.programmes import points_of

DUAL_SLOPE: dict[str, Any] = {
    "diff_form": "origin",
    "diff_pickup_pu": 0.3,
    "slope_1_pct": 25.0,
    "slope_2_pct": 60.0,
    "break_pu": 3.0,
    "restraint_as": "average",
    "tap_1_a": 4.9,
    "tap_2_a": 3.6,
}


def test_multiples_of_the_pickup() -> None:
    points = timing_points({"pickup_a": 320.0, "multiples": [3.0]})
    assert [(p.label, p.given) for p in points] == [
        ("0.95 × pickup", {"applied_a": 304.0}),
        ("3 × pickup", {"applied_a": 960.0}),
    ]


# Makers state undervoltage times at 0.9 of the setting and at nothing, overvoltage at
# 1.1 and at twice (the table `relay_functions`).
SIDES: dict[str, tuple[dict[str, Any], list[Any]]] = {
    "under": ({"voltage_curve": "under_b"}, [105.0, 90.0, 50.0, 0.0]),
    "by its element": ({"element": "27"}, [105.0, 90.0, 50.0, 0.0]),
    "over": ({"voltage_curve": "over_a"}, [95.0, 110.0, 150.0, 200.0]),
    "in hertz": ({"set_unit": "Hz"}, [None] * 4),
}


@pytest.mark.parametrize(("plate", "volts"), SIDES.values(), ids=SIDES)
def test_multiples_of_a_voltage(plate: dict[str, Any], volts: list[Any]) -> None:
    points = voltage_points({"set_value": 100.0, "set_unit": "V", **plate})
    assert [point.given.get("applied_v") for point in points] == volts


def test_a_differential_is_read_on_each_part_and_held_through_a_fault() -> None:
    """By hand: at 4.5 the line is 0.75 + 0.6 x 1.5 = 1.65; 4.5 +- 0.825 of tap."""
    points = list(differential_points(DUAL_SLOPE))
    assert [point.given["restraint_pu"] for point in points] == [
        0.6,
        2.1,
        4.5,
        7.5,
        7.5,
    ]
    assert points[2].label == "restraint 4.5: 26.09 A and 13.23 A"
    last = points[-1]
    assert last.label == "through fault 7.5: 36.75 A and 27.00 A"
    assert last.given["differential_test"] == "through_fault"


def test_a_differential_without_settings_has_points_without_currents() -> None:
    labels = [point.label for point in differential_points({"tap_1_a": 4.9})]
    assert labels[0] == "restraint 0.2"
    assert labels[-1] == "through fault 5"


TOLD = [
    {"label": "time", "given": {"element": "51"}, "fitted": ["pickup_a"]},
    {"label": "at once", "given": {"element": "50"}, "fitted": ["inst_pickup_a"]},
    {"label": "always", "group": "own"},
]
FITTED: dict[str, tuple[dict[str, Any], list[str]]] = {
    "one of them": ({"pickup_a": 320.0}, ["time", "always"]),
    "both": ({"pickup_a": 1.0, "inst_pickup_a": 2.0}, ["time", "at once", "always"]),
    "none": ({}, ["time", "at once", "always"]),
}


@pytest.mark.parametrize(("plate", "labels"), FITTED.values(), ids=FITTED)
def test_told_points_are_those_that_are_fitted(
    plate: dict[str, Any], labels: list[str]
) -> None:
    relay = Apparatus(kind="relay", nameplate=plate)
    points = points_of("relay_pickup", relay, TOLD)
    assert [point.label for point in points] == labels
    assert points[0] == PlannedPoint(label="time", group="51", given={"element": "51"})
    assert points[-1].group == "own"
