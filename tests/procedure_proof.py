"""One procedure through a whole round: planned, read, sealed, in the gear book."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Lineup, Package
from models.services.field.round_document import round_document
from models.services.owner.trends import Trend, trend
from models.services.setup import assets
from models.services.setup.plan_round import plan_round
from tests import scenario
from tests.scenario import (
    BEGAN,
    LEAD,
    OWNER,
    TECHNICIAN,
    TEST_FIRM,
    Work,
    build,
    fixed_id,
)
from webapp.package_files import make_signed


def register_instrument(session: Session, procedure: str, at: datetime) -> None:
    """Add the test firm's instrument OWN for a procedure, calibrated a month ago."""
    assets.add_instrument(
        session,
        instrument_id=fixed_id("own"),
        organisation_id=fixed_id(TEST_FIRM),
        tag="OWN",
        name="test set",
        serial="S-OWN",
        procedures=[procedure],
    )
    assets.add_calibration(
        session,
        calibration_id=fixed_id("own calibration"),
        instrument_id=fixed_id("own"),
        calibrated_on=(at - timedelta(days=30)).date(),
        due_on=(at + timedelta(days=300)).date(),
        certificate_no="N-OWN",
        laboratory="Plinth Calibration",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """A procedure on one apparatus; *readings* are those of its points, in order."""

    procedure: str
    programme: str
    gear: str
    apparatus: tuple[str, str, dict[str, Any]]  # kind, label, nameplate
    unit: str
    readings: tuple[str, ...]
    conditions: Mapping[str, Any] = field(default_factory=dict)  # of every reading
    instrument: str = str(fixed_id("own"))  # empty: by eye

    def begin(self, session: Session) -> Work:
        """Build the place, and open a round of the programme there."""
        build(session, [self.apparatus])
        return Work(session, self.plan(session, BEGAN), BEGAN)

    def plan(self, session: Session, at: datetime) -> UUID:
        """Open a round of the programme at a place that is built; return its id."""
        session.get_one(Lineup, scenario.lineup_id()).gear = self.gear
        register_instrument(session, self.procedure, at)
        return plan_round(
            session,
            person_id=LEAD.id,
            lineup_id=scenario.lineup_id(),
            kind="acceptance",
            programme=self.programme,
            now=at,
            new_id=uuid4,
            optional=True,
        )

    def fill(self, work: Work) -> dict[str, str]:
        """Confirm, read every point and sign; return the verdict of each point."""
        label = self.apparatus[1]
        work.confirm(label, self.procedure, conditions=self.conditions)
        facts = work.facts(label, self.procedure)
        for point, text in zip(facts.card.points, self.readings, strict=True):
            work.tick()
            entry = work.entry(
                facts.card,
                "reading",
                point_id=str(point.id),
                text=text,
                unit=self.unit or None,
                conditions=dict(self.conditions),
                instrument_id=self.instrument,
            )
            work.store(entry)
        work.confirm(label, self.procedure, after=True, conditions=self.conditions)
        work.sign((label, self.procedure))
        return work.verdicts(label, self.procedure)

    def tablet(self, work: Work) -> dict[str, Any]:
        """Return the round's document as a tablet takes it."""
        return round_document(
            work.session,
            person_id=TECHNICIAN.id,
            round_id=work.round_id,
            now=work.at,
        )

    def package(self, work: Work) -> dict[str, Any]:
        """Have the package signed and approved; return the card's part of it."""
        work.seal(TECHNICIAN, "performed", make_signed)
        work.seal(LEAD, "approved", make_signed)
        document = json.loads(work.session.scalars(select(Package)).one().document)
        (card,) = (c for c in document["cards"] if c["procedure"] == self.procedure)
        found: dict[str, Any] = card
        return found

    def trend(self, work: Work, at: int = 0) -> Trend:
        """Return the trend of one point, for the owner; the package comes first."""
        point: UUID = work.card(self.apparatus[1], self.procedure).points[at].id
        return trend(work.session, person_id=OWNER.id, point_id=point)
