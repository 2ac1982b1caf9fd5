"""Sites and instruments: refused by name, not by the database."""

from collections.abc import Callable
from datetime import date
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import InputError, NotFoundError
from models.record.instrument import Range
from models.schema import Base
from models.services.setup import assets
from tests.scenario import (
    IR,
    OWNER_FIRM,
    TEST_FIRM,
    fixed_id,
)

Add = Callable[..., Any]

# what -> the service, what it is given, the field that names its parent
SOUND: dict[str, tuple[Add, dict[str, Any], str]] = {
    "site": (
        assets.add_site,
        {
            "site_id": uuid4(),
            "owner_id": fixed_id(OWNER_FIRM),
            "name": "Annex",
            "address": "",
            "zone": "Europe/Lisbon",
        },
        "owner_id",
    ),
    "instrument": (
        assets.add_instrument,
        {
            "instrument_id": uuid4(),
            "organisation_id": fixed_id(TEST_FIRM),
            "tag": "IR-9",
            "name": "tester",
            "serial": "9",
            "procedures": [IR],
            "ranges": [Range(unit="GOhm", pct_reading=5.0)],
        },
        "organisation_id",
    ),
    "calibration": (
        assets.add_calibration,
        {
            "calibration_id": uuid4(),
            "instrument_id": fixed_id("IR-1"),
            "calibrated_on": date(2026, 6, 1),
            "due_on": date(2027, 6, 1),
            "certificate_no": "N",
            "laboratory": "L",
        },
        "instrument_id",
    ),
}

# what, what is given instead -> the field that is found wrong
REFUSED: dict[str, tuple[str, dict[str, Any], str]] = {
    "no zone": ("site", {"zone": ""}, "zone"),
    "a zone of nowhere": ("site", {"zone": "Lisbon"}, "zone"),
    "a path for a zone": ("site", {"zone": "../../etc/passwd"}, "zone"),
    "a tag taken": ("instrument", {"tag": "IR-1"}, "tag"),
    "a procedure that is none": ("instrument", {"procedures": ["x"]}, "procedures"),
    "an accuracy below zero": (
        "instrument",
        {"ranges": [Range(unit="GOhm", pct_reading=-5.0)]},
        "ranges.0.pct_reading",
    ),
    "due before it was calibrated": (
        "calibration",
        {"due_on": date(2026, 5, 31)},
        "due_on",
    ),
    "due on the day itself": ("calibration", {"due_on": date(2026, 6, 1)}, "due_on"),
}


def rows(session: Session) -> int:
    return sum(
        session.execute(select(func.count()).select_from(table)).scalar_one()
        for table in Base.metadata.sorted_tables
    )


def test_what_is_sound_is_added(place: Session) -> None:
    before = rows(place)
    for add, given, _ in SOUND.values():
        add(place, **given)
    ranges = 1  # of the instrument
    assert rows(place) == before + len(SOUND) + ranges


def test_what_cannot_be_is_refused_with_its_field(place: Session) -> None:
    before = rows(place)
    got = {}
    for case, (what, change, _) in REFUSED.items():
        add, given, _ = SOUND[what]
        with pytest.raises(InputError) as refused:
            add(place, **given | change)
        got[case] = " ".join(f.field for f in refused.value.faults)
    assert got == {case: field for case, (_, _, field) in REFUSED.items()}
    assert rows(place) == before


def test_what_belongs_to_nothing_is_not_found(place: Session) -> None:
    for what, (add, given, parent) in SOUND.items():
        with pytest.raises(NotFoundError):
            add(place, **given | {parent: uuid4()})
        assert parent in given, what
