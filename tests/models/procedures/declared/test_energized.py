"""Live gear: what the angle of a current in service is expected to be, and a round.

Angles by the definition of complex power, worked out here with complex numbers, not
with the program's chain of degrees.
"""

import cmath
import math
from itertools import product

import pytest
from sqlalchemy.orm import Session

from models.judging import Criteria, Judgement, Reading
from models.procedures import Subject, compile_rule, judge
from models.procedures.given import Given
from tests.procedure_proof import Proof

PROOF = Proof(
    procedure="phase_rotation",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("bus", "main bus", {"rotation": "abc"}),
    unit="",
    readings=("as_expected",),
)


def given(quantity: str, value: float) -> Given:
    return Given(
        quantity=quantity,
        value=value,
        standing="project",
        scope="lineup",
        document="the project's paper",
    )


BOTH = (given("service_angle", 5.0), given("service_current", 5.0))
PLATE = {"ct_primary_a": 600.0, "ct_secondary_a": 5.0}


def judged(
    criteria: Criteria,
    text: str,
    phase: str,
    reference: str = "va",
    power: complex = 4200 + 1800j,
    service_a: float = 1.763,
    **plate: str,
) -> Judgement:
    known = {**PLATE, "rotation": "abc", "ct_toward": "bus", **plate}
    conditions = {
        "phase": phase,
        "reference_phase": reference,
        "load_kw": power.real,
        "load_kvar": power.imag,
        "load_kv": 12.47,
        "service_a": service_a,
    }
    rule = compile_rule("current_angle", Subject(given=BOTH, **known), criteria)
    reading = Reading(key="1", text=text, unit="deg", conditions=conditions)
    return judge([(rule, reading)])[0]


def pointers(rotation: str) -> dict[str, complex]:
    """Return the voltages of the phases and between them, that of phase A upright."""
    third = cmath.rect(1, math.radians(-120 if rotation == "abc" else 120))
    volts = {"va": 1 + 0j, "vb": third, "vc": third.conjugate()}
    for one, other in ("ab", "bc", "ca"):
        volts[f"v{one}{other}"] = volts[f"v{one}"] - volts[f"v{other}"]
    return volts


@pytest.mark.parametrize(
    ("rotation", "toward"),
    list(product(("abc", "acb"), ("bus", "feeder"))),
)
def test_angles_are_those_of_the_pointers(
    criteria: Criteria, rotation: str, toward: str
) -> None:
    """I of a phase is (S / V) conjugate; every phase against every voltage."""
    volts = pointers(rotation)
    for power in (4200 + 1800j, -4200 + 1800j, 3000 - 2500j):
        for phase, (reference, against) in product("abc", volts.items()):
            current = (power / volts[f"v{phase}"]).conjugate()
            current *= -1 if toward == "feeder" else 1
            expected = math.degrees(cmath.phase(current / against))
            found = judged(
                criteria,
                f"{expected:.6f}",
                phase,
                reference,
                power,
                abs(power) / 12.47 / math.sqrt(3) / 120,
                rotation=rotation,
                ct_toward=toward,
            )
            assert found.verdict == "within"
            assert found.limit_low is not None
            away = found.limit_low + 5 - expected
            assert math.remainder(away, 360) == pytest.approx(0, abs=1e-5)


@pytest.mark.parametrize(
    ("text", "phase", "verdict", "difference"),
    [
        ("-25.1", "a", "within", "-1.901"),
        ("96.6", "b", "outside", "-120.2"),
        ("-143.0", "c", "outside", "120.2"),
        ("359.9", "a", "outside", "23.10"),
    ],
)
def test_worked_numbers(
    criteria: Criteria, text: str, phase: str, verdict: str, difference: str
) -> None:
    """Programme, 6.7: a swap of B and C reads 120.20 out the shorter way round."""
    found = judged(criteria, text, phase)
    assert found.verdict == verdict
    assert f": {difference} °" in found.reason


def test_across_zero(criteria: Criteria) -> None:
    """Expected 0.1, read 359.9: a fifth of a degree."""
    power = cmath.rect(4569.5, math.radians(-0.1))
    found = judged(criteria, "359.9", "a", power=power)
    assert found.verdict == "within"
    assert ": -0.2000 °" in found.reason


def test_the_working_says_power_and_current(criteria: Criteria) -> None:
    said = " ".join(judged(criteria, "-25.1", "a").working)
    for figure in ("4569 kVA", "211.6 A", "1.763 A", "35.26 %", "23.20 °"):
        assert figure in said


def test_rotation_of_a_site_that_is_not_set(criteria: Criteria) -> None:
    rule = compile_rule("phase_rotation", Subject(), criteria)
    (found,) = judge([(rule, Reading(key="1", text="as_expected"))])
    assert (found.verdict, "not set" in found.reason) == ("unjudged", True)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != PROOF.procedure:
            work.withdraw(label, procedure)
    assert PROOF.fill(work) == {"rotation": "within"}
    assert PROOF.package(work)["readings"][0]["judgement"]["verdict"] == "within"
