"""The steps from an empty installation to the first card: which of them are done."""

from datetime import date
from typing import Any, NamedTuple
from uuid import UUID

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from models.schema import Calibration, Instrument, Lineup, Person, Round
from models.services.people.access import person_of, sites_to_set_up


class Step(NamedTuple):
    """A step, how much of it is there, and whether the person does it themselves."""

    key: str
    number: int
    for_this_person: bool


# step -> who does it
DOERS = {
    "site": ("administrator", "lead"),
    "lineup": ("administrator", "lead"),
    "people": ("administrator",),
    "instrument": ("administrator", "lead"),
    "round": ("lead",),
}


def first_steps(session: Session, *, person_id: UUID, today: date) -> list[Step]:
    """Return the steps in order, counted over what this person may see.

    People are the person's colleagues who may sign in; instruments those of their
    organisation that are in calibration *today*.
    """
    person = person_of(session, person_id)
    found = session.execute(select(*_counts(person, today))).one()
    return [
        Step(
            key=key,
            number=number,
            for_this_person=not person.roles.isdisjoint(DOERS[key]),
        )
        for key, number in zip(DOERS, found, strict=True)
    ]


def _counts(person: Person, today: date) -> list[Any]:
    sites = sites_to_set_up(person)
    lineups = select(Lineup.id).where(Lineup.site_id.in_(sites))
    calibrated = (
        select(Instrument.id)
        .join(Calibration)
        .where(
            Instrument.organisation_id == person.organisation_id,
            Calibration.calibrated_on <= today,
            Calibration.due_on >= today,
        )
        .distinct()
    )
    return [
        _number(sites),
        _number(lineups),
        _number(_colleagues(person)),
        _number(calibrated),
        _number(select(Round.id).where(Round.lineup_id.in_(lineups))),
    ]


def _colleagues(person: Person) -> Select[UUID]:
    return select(Person.id).where(
        Person.organisation_id == person.organisation_id,
        Person.active,
        Person.id != person.id,
    )


def _number(rows: Select[Any]) -> Any:
    return select(func.count()).select_from(rows.subquery()).scalar_subquery()
