"""Cards that answer one question together: on the tablet and in the package."""

import json
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Package
from models.services.turnover.card_record import card_record
from tests.data.cases_transformers import C400
from tests.procedure_proof import Proof
from tests.scenario import LEAD

PLATE = {**C400, "ct_rct_ohm": 0.4, "knee_v": 264.0}
PROOF = Proof(
    procedure="ct_burden",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("ct", "CT 1", PLATE),
    unit="V",
    readings=("0.9", "1.0", "0.95", "1.75"),
    conditions={"injected_a": 5.0},
)
FOLLOWS = [
    "Together: the voltage that the fault asks of the core = (winding at 75 °C "
    "0.4000 Ω + burden 0.3500 Ω (residual)) × secondary fault current with its "
    "offset 1083 A = 812.5 V.",
    "That is above the knee 264.0 V.",
]


def test_the_cards_of_a_ct_answer_together(session: Session) -> None:
    work = PROOF.begin(session)
    keep = ("ct_burden", "ct_winding_resistance")
    for label, procedure in work.cards:
        if procedure not in keep:
            work.withdraw(label, procedure)
    document = PROOF.tablet(work)
    (asked,) = [one for one in document["together"] if one["question"] == "saturation"]
    found = [c["procedure"] for c in document["cards"] if c["id"] in asked["cards"]]
    assert sorted(found) == sorted(
        [*keep, "ct_excitation"]
    )  # withdrawn: the readers leave it out
    assert asked["known"]["knee"] == 264.0
    assert ["X/R at the site", "12"] in asked["shown"]
    work.withdraw("CT 1", "ct_winding_resistance")
    PROOF.fill(work)
    (card,) = (c for c in PROOF.tablet(work)["cards"] if c["procedure"] == "ct_burden")
    record = card_record(session, person_id=LEAD.id, card_id=UUID(card["id"]))
    assert [one["follows"] for one in record.together] == [FOLLOWS]
    PROOF.package(work)
    document = json.loads(session.scalars(select(Package)).one().document)
    (said,) = document["together"]
    assert (said["cell"], said["follows"]) == (record.cell, FOLLOWS)
    assert [one["verdict"] for one in said["members"]] == ["within"]
