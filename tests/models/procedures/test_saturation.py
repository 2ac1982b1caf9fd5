"""Saturation: the worked numbers of a relaying page and of a public package.

If 20 kA, 1200:5, Rct 0.40, C400 (4 ohm), X/R 12, worked out from the forms by hand; 20
times 18 over 7 is the limit factor of a 15 VA, 1 A core at 4 ohm.
"""

import pytest

from models.procedures.saturation import (
    Core,
    Fault,
    demand,
    highest_burden,
    saturation_number,
)

ALONE = Core(primary_a=1200, secondary_a=5, times=20, burden_ohm=4)
WOUND = Core(primary_a=1200, secondary_a=5, times=20, burden_ohm=4, rct_ohm=0.4)
FAULT = Fault(fault_a=20000, x_over_r=12)
LEFT = Fault(fault_a=20000, x_over_r=12, remanence_pct=40)
PHASE, GROUND = 0.20, 0.35  # ohms: lead 0.15 one way, relay 0.05

NUMBERS = {
    "phase loop": (ALONE, FAULT, PHASE, 10.833),
    "ground loop": (ALONE, FAULT, GROUND, 18.958),
    "phase loop, remanence": (ALONE, LEFT, PHASE, 18.056),
    "ground loop, remanence": (ALONE, LEFT, GROUND, 31.597),
    "phase loop, with the winding": (WOUND, FAULT, PHASE, 29.545),
    "ground loop, with the winding": (WOUND, FAULT, GROUND, 36.932),
}


@pytest.mark.parametrize(
    ("core", "fault", "ohm", "number"), NUMBERS.values(), ids=NUMBERS
)
def test_saturation_number(core: Core, fault: Fault, ohm: float, number: float) -> None:
    assert saturation_number(core, fault, ohm) == pytest.approx(number, rel=5e-5)


def test_a_public_package_gives_the_same_number() -> None:
    """12 kA, 600:5, 1 ohm, X/R 10 on C400: 55.0 there."""
    core = Core(primary_a=600, secondary_a=5, times=20, burden_ohm=4)
    fault = Fault(fault_a=12000, x_over_r=10)
    assert saturation_number(core, fault, 1.0) == pytest.approx(55.0)
    # (1 + X/R) If Z in volts: 1100 there
    assert demand(core, fault) * 5 * 1.0 == pytest.approx(1100.0)


def test_the_highest_burden_is_where_the_number_is_the_factor() -> None:
    assert highest_burden(ALONE, FAULT) == pytest.approx(0.36923, rel=5e-5)
    assert highest_burden(ALONE, LEFT) == pytest.approx(0.22154, rel=5e-5)
    for core, fault in ((ALONE, FAULT), (ALONE, LEFT), (WOUND, FAULT)):
        most = highest_burden(core, fault)
        assert saturation_number(core, fault, most) == pytest.approx(20.0)


def test_what_the_winding_alone_saturates_carries_no_burden() -> None:
    core = Core(primary_a=1200, secondary_a=5, times=20, burden_ohm=1, rct_ohm=2)
    assert highest_burden(core, FAULT) == 0.0
    assert highest_burden(ALONE, Fault(fault_a=1, x_over_r=1, remanence_pct=100)) == 0.0


def test_secondary_volts_with_and_without_offset() -> None:
    amperes = FAULT.fault_a * 5 / 1200
    assert amperes == pytest.approx(83.333, rel=5e-5)
    for ohm, plain, offset in ((PHASE, 50.0, 650.0), (GROUND, 62.5, 812.5)):
        assert amperes * (0.4 + ohm) == pytest.approx(plain)
        assert demand(ALONE, FAULT) * 5 * (0.4 + ohm) == pytest.approx(offset)
