"""What is compared by eye: no instrument is asked for, and none can be out of date."""

import json

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.schema import Package
from models.services.keeping.check_record import check_record
from models.services.turnover.gate import gate
from tests.procedure_proof import Proof
from tests.scenario import IR, LEAD

BY_EYE = {
    "ct_shorting",
    "fuse_rating",
    "relay_settings",
    "temperature_sensor_link",
    "vt_fuses",
}
PROOF = Proof(
    procedure="vt_fuses",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("vt", "VT 1", {"vt_primary_v": 14400.0, "vt_secondary_v": 120.0}),
    unit="",
    readings=("as_expected", "as_expected"),
    instrument="",
)


def test_which_procedures_are_done_by_eye() -> None:
    assert {name for name, one in PROCEDURES.items() if one.by_eye} == BY_EYE


def test_it_goes_through_a_round_without_an_instrument(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != PROOF.procedure:
            work.withdraw(label, procedure)
    asked = PROOF.tablet(work)["procedures"]
    assert (asked["vt_fuses"]["by_eye"], "by_eye" in asked[IR]) == (True, False)
    assert set(PROOF.fill(work).values()) == {"within"}
    found = gate(session, person_id=LEAD.id, round_id=work.round_id)
    codes = {one.code for one in (*found.still, *found.settled)}
    assert "calibration" not in codes
    card = PROOF.package(work)
    for reading in card["readings"]:
        assert (reading["instrument"], reading["instrument_id"]) == ("by eye", "")
        assert reading["calibrated"] is True
    document = json.loads(session.scalars(select(Package)).one().document)
    assert document["instruments"] == []
    assert check_record(session).faults == []


def test_what_is_measured_still_needs_an_instrument(session: Session) -> None:
    measured = Proof(
        procedure="vt_ratio",
        programme=PROOF.programme,
        gear=PROOF.gear,
        apparatus=PROOF.apparatus,
        unit=":1",
        readings=("120", "120", "120"),
        instrument="",
    )
    work = measured.begin(session)
    with pytest.raises(AssertionError, match="Choose the instrument from the register"):
        measured.fill(work)
