"""The gear book of gas-insulated gear: mass of gas in and out, by tank and year."""

import pytest
from sqlalchemy.orm import Session

from models.services.owner.gear_book import gear_book
from tests import scenario
from tests.conftest import Stages
from tests.procedure_proof import Proof
from tests.scenario import OWNER
from tests.webapp.desk import Desk

PROOF = Proof(
    procedure="gas_mass",
    programme="Acceptance, any gear",
    gear="gas_insulated",
    apparatus=("gas_tank", "tank 1", {"gas": "sf6", "gas_mass_kg": 12.0}),
    unit="kg",
    readings=("8.3", "3.5"),
    conditions={"gas_way": "in", "cylinder_id": "C-17"},
)


def test_the_cylinders_of_an_acceptance_add_up(sqlite_stages: Stages) -> None:
    desk = Desk(sqlite_stages.fresh(""))
    with Session(desk.app.extensions["engine"], expire_on_commit=False) as session:
        work = PROOF.begin(session)
        for label, procedure in work.cards:
            if procedure != PROOF.procedure:
                work.withdraw(label, procedure)
        assert set(PROOF.fill(work).values()) == {"within"}
        PROOF.package(work)
        session.commit()
        book = gear_book(session, person_id=OWNER.id, lineup_id=scenario.lineup_id())
        (tank,) = book.gas
        ((_, year),) = tank.years.items()
        assert (year.into_kg, year.out_kg) == pytest.approx((11.8, 0.0))
        assert (tank.label, tank.plate_kg, tank.uncounted) == ("tank 1", 12.0, [])
        assert tank.lost_pct_year is None
    page = desk.person(OWNER).get(f"/owner/lineups/{scenario.lineup_id()}")
    shown = page.text.split("Gas moved, by tank and year")[1]
    assert "tank 1 · SF6" in shown
    assert "nameplate 12.00 kg" in shown
    assert "the acceptance left 11.80 kg, −0.20 kg against it" in shown
    desk.close()
