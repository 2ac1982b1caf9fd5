"""The register as a list: states by the day, the order, what is found."""

from datetime import date
from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.errors import ForbiddenError, InputError
from models.record.instrument import Range
from models.schema import Instrument
from models.services.setup.instruments import InstrumentEntry, enter_instrument
from models.services.setup.list_instruments import (
    STATES,
    instrument_view,
    list_instruments,
    state_on,
)
from tests.scenario import BEGAN, IR, LEAD, OWNER, TECHNICIAN, Work, fixed_id

# IR-1 is due on 1 June 2026, IR-DUE on 2 March 2026, IR-NEW on 3 March 2027.
ON: dict[str, tuple[date, str, str]] = {
    "on its last day": (date(2026, 6, 1), "IR-1", "due_30"),
    "the day after": (date(2026, 6, 2), "IR-1", "lapsed"),
    "thirty days before": (date(2026, 5, 2), "IR-1", "due_30"),
    "thirty-one": (date(2026, 5, 1), "IR-1", "due_60"),
    "sixty": (date(2026, 4, 2), "IR-1", "due_60"),
    "sixty-one": (date(2026, 4, 1), "IR-1", "in_date"),
}


def listed(session: Session, today: date, **asked: Any) -> dict[str, str]:
    page = list_instruments(session, person_id=TECHNICIAN.id, today=today, **asked)
    assert page.total == len(page.rows)
    return {row.tag: row.state for row in page.rows}


@pytest.mark.parametrize(("today", "tag", "state"), ON.values(), ids=ON)
def test_the_state_is_that_of_the_day(
    place: Session, today: date, tag: str, state: str
) -> None:
    assert listed(place, today)[tag] == state
    assert state_on(place.get_one(Instrument, fixed_id(tag)), today) == state
    found = listed(place, today, state=state)
    assert tag in found
    assert set(found.values()) == {state}


def test_what_needs_attention_stands_first(place: Session) -> None:
    place.get_one(Instrument, fixed_id("CR-1")).retired_on = date(2026, 1, 1)
    enter_instrument(
        place,
        person_id=LEAD.id,
        instrument_id=fixed_id("new"),
        entry=InstrumentEntry(
            tag="A-1", name="tester", serial="1", maker="Plinth", procedures=[IR]
        ),
        now=BEGAN,
    )
    found = listed(place, date(2026, 4, 20))
    assert list(found.values()) == sorted(found.values(), key=list(STATES).index)
    assert (found["A-1"], found["CR-1"]) == ("none", "retired")
    due = listed(place, date(2026, 4, 20), state="due")
    assert set(due) == {"IR-DUE", "A-1", "IR-1", "HV-1", "RT-1"}
    assert set(listed(place, date(2026, 4, 20), words="n-ir")) == {
        *("IR-1", "IR-DUE", "IR-NEW"),
    }  # certificates
    assert set(listed(place, date(2026, 4, 20), words="plinth a-1")) == {"A-1"}
    with pytest.raises(ForbiddenError):
        list_instruments(place, person_id=OWNER.id, today=date(2026, 4, 20))


def test_a_technician_adds_none_and_a_bad_one_is_refused_whole(place: Session) -> None:
    bad = InstrumentEntry(
        tag="", name="x", serial="1", procedures=[IR], ranges=[Range(unit="s")]
    )
    with pytest.raises(InputError) as caught:
        enter_instrument(
            place, person_id=LEAD.id, instrument_id=fixed_id("x"), entry=bad, now=BEGAN
        )
    assert [one.field for one in caught.value.faults] == ["tag", "ranges.0.unit"]
    with pytest.raises(ForbiddenError):
        enter_instrument(
            place,
            person_id=TECHNICIAN.id,
            instrument_id=fixed_id("x"),
            entry=bad,
            now=BEGAN,
        )
    assert place.get(Instrument, fixed_id("x")) is None


def test_it_says_where_it_was_used(confirmed: Work) -> None:
    confirmed.read("bus", IR, "8")
    view = instrument_view(
        confirmed.session,
        person_id=TECHNICIAN.id,
        instrument_id=fixed_id("IR-1"),
        today=BEGAN.date(),
    )
    (used,) = view.used
    assert (used.round_id, used.readings) == (confirmed.round_id, 1)
    assert view.in_use == {view.calibrations[0].id}
