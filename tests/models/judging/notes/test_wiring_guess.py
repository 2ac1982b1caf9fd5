"""Guesses of wrong wiring: pointers of complex numbers say what each exchange reads.

Worked by hand for P 4.2 MW and Q 1.8 Mvar: -23.199 degrees in phase A; B and C
exchanged read 96.6 and -143.0.
"""

import cmath
import math
from itertools import permutations, product

import pytest

from models.judging import Criteria, Judgement, Reading
from models.procedures import Subject, compile_rule, judge

PLATE = {"ct_primary_a": 600.0, "ct_secondary_a": 5.0, "ct_toward": "bus"}
LOAD = {"load_kw": 4200.0, "load_kvar": 1800.0, "load_kv": 12.47, "service_a": 1.76}
LAG = math.atan2(1.8, 4.2)


def read(
    criteria: Criteria, text: str, phase: str, rotation: str | None = "abc"
) -> Judgement:
    rule = compile_rule("current_angle", Subject(rotation=rotation, **PLATE), criteria)
    conditions = {**LOAD, "phase": phase, "reference_phase": "va"}
    reading = Reading(key="1", text=text, unit="deg", conditions=conditions)
    return judge([(rule, reading)])[0]


def guesses(judged: Judgement) -> list[str]:
    return [line for line in judged.working if "what would give this" in line]


SAID = {
    "B and C exchanged, at B": (
        ("96.6", "b"),
        "-120.2° from what is expected: what would give this is the current of phase C "
        "in the place of this one, or the reference voltage of another phase; -0.2014°",
    ),
    "B and C exchanged, at C": (("-143.0", "c"), "120.2° from what is expected: what"),
    "turned round": (
        ("156.8", "a"),
        "this phase with its polarity exchanged (the core, or its secondary leads), or "
        "power that flows the other way",
    ),
    "another phase, and turned": (
        ("36.8", "a"),
        "the current of phase B in the place of this one, with its polarity exchanged",
    ),
    "as drawn": (("-23.2", "a"), None),
    "as drawn, and 12 degrees out": (("-35", "a"), None),
    "lead for lag, which no exchange gives": (("23.2", "a"), None),
}


@pytest.mark.parametrize(("typed", "said"), SAID.values(), ids=SAID)
def test_what_is_said(
    criteria: Criteria, typed: tuple[str, str], said: str | None
) -> None:
    found = guesses(read(criteria, *typed))
    assert len(found) == (said is not None)
    assert said is None or said in found[0]


def test_nothing_is_guessed_without_the_rotation(criteria: Criteria) -> None:
    assert guesses(read(criteria, "96.6", "b", None)) == []


@pytest.mark.parametrize("rotation", ["abc", "acb"])
def test_every_exchange_is_found(criteria: Criteria, rotation: str) -> None:
    """48 wirings: any order of the three currents, each polarity right or turned."""
    third = cmath.rect(1, math.radians(-120 if rotation == "abc" else 120))
    lead = {"a": 1 + 0j, "b": third, "c": third.conjugate()}
    for order, signs in product(permutations("abc"), product((1, -1), repeat=3)):
        for phase, other, sign in zip("abc", order, signs, strict=True):
            current = sign * lead[other] * cmath.rect(1, -LAG)
            text = f"{math.degrees(cmath.phase(current)) + 1.5:.3f}"
            found = guesses(read(criteria, text, phase, rotation))
            if other == phase and sign == 1:
                assert found == []
            elif other == phase:
                assert "this phase with its polarity exchanged" in found[0]
            else:
                assert f"the current of phase {other.upper()}" in found[0]
                assert ("polarity exchanged" in found[0]) == (sign == -1)


def test_what_is_said_of_marks_that_do_not_agree(criteria: Criteria) -> None:
    for procedure, word in (
        ("ct_polarity", "the core stands turned"),
        ("vt_polarity", "the leads of one winding"),
        ("phase_rotation", "two phases are exchanged"),
    ):
        rule = compile_rule(procedure, Subject(rotation="abc"), criteria)
        for text, said in (("as_expected", 0), ("not_as_expected", 1)):
            (judged,) = judge([(rule, Reading(key="1", text=text, conditions={}))])
            assert sum(word in line for line in judged.working) == said
