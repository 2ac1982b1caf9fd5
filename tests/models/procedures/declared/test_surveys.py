"""Surveys in service: Table 100.18 of the acceptance edition of 2003, 40 % of load.

The levels of discharge are from memory; no standard prints any.
"""

from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.judging import Criteria, Reading
from models.procedures import Subject, compile_rule, judge
from models.procedures.given import Given
from tests.procedure_proof import Proof

PROOF = Proof(
    procedure="discharge_survey",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("bus", "main bus", {"rated_kv": 15.0}),
    unit="dB",
    readings=("12", "14", "3"),
    conditions={"background_db": 6.0, "phase_pattern": "not_locked"},
)
SENSORS = ("temperature_sensor", "temperature_sensor_alarm")


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != PROOF.procedure:
            work.withdraw(label, procedure)
    assert set(PROOF.fill(work).values()) == {"within"}
    readings = PROOF.package(work)["readings"]
    assert {r["conditions"]["sensor_kind"] for r in readings} == {"tev", "ultrasound"}


def judged(
    criteria: Criteria, name: str, text: str, unit: str, subject: Subject, **known: Any
) -> Any:
    reading = Reading(key="1", text=text, unit=unit, conditions=known)
    return judge([(compile_rule(name, subject, criteria), reading)])[0]


@pytest.mark.parametrize(
    ("compare_to", "text", "verdict", "said"),
    [
        ("similar", "3", "marginal", "investigate"),
        ("similar", "4", "outside", "repair as time permits"),
        ("similar", "16", "outside", "repair at once"),
        ("air", "4", "marginal", "investigate"),
        ("air", "30", "outside", "monitor until corrected"),
        ("air", "0.9", "within", "no finding"),
    ],
)
def test_the_words_of_the_print(
    criteria: Criteria, compare_to: str, text: str, verdict: str, said: str
) -> None:
    known = {"compare_to": compare_to, "load_pct": 70.0}
    found = judged(criteria, "thermography", text, "K", Subject(), **known)
    assert (found.verdict, said in found.reason) == (verdict, True)
    assert found.cite[0]["table"] == "Table 100.18"


def test_a_light_load_shows_no_bad_joint(criteria: Criteria) -> None:
    known = {"compare_to": "similar", "load_pct": 39.0}
    found = judged(criteria, "thermography", "0", "K", Subject(), **known)
    assert (found.verdict, found.limit_high) == ("unjudged", None)
    assert found.reason == "The load 39 % is below the 40 % that is wanted."


def test_a_figure_of_discharge_is_said_to_be_from_memory(criteria: Criteria) -> None:
    known = {"sensor_kind": "tev", "background_db": 8.0}
    found = judged(criteria, "discharge_survey", "30", "dB", Subject(), **known)
    assert found.verdict == "outside"
    assert "memory" in {cite["provenance"] for cite in found.cite}


@pytest.mark.parametrize("name", SENSORS)
def test_a_sensor_without_figures_is_unjudged(criteria: Criteria, name: str) -> None:
    plate = Subject(sensor_accuracy_c=1.0, sensor_alarm_c=90.0)
    known = {"reference_c": 90.5}
    assert judged(criteria, name, "194", "degF", plate, **known).verdict == "within"
    assert judged(criteria, name, "90", "degC", Subject(), **known).verdict == (
        "unjudged"
    )


def test_phases_may_differ_by_what_the_project_gives(criteria: Criteria) -> None:
    one = Given(
        quantity="sensor_spread",
        value=2.0,
        standing="project",
        scope="lineup",
        document="Specification 26 13 13",
    )
    name, subject = "temperature_sensor_spread", Subject(given=(one,))
    assert judged(criteria, name, "1.9", "K", subject).verdict == "within"
    assert judged(criteria, name, "2.1", "K", subject).verdict == "outside"


@pytest.mark.parametrize(
    ("outcome", "verdict"), [("as_expected", "within"), ("not_as_expected", "outside")]
)
def test_a_lost_link_has_to_be_said(
    criteria: Criteria, outcome: str, verdict: str
) -> None:
    rule = compile_rule("temperature_sensor_link", Subject(), criteria)
    found = judge([(rule, Reading(key="1", text=outcome))])[0]
    assert found.verdict == verdict
