"""Draw-out breakers of SG-1 that change places between its rounds.

A breaker goes to the workshop and a spare one stands in for it; a year later the spare
stands in for another. Readings follow each breaker.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.record.lineup_draft import ApparatusDraft
from models.services.setup.move_apparatus import move_apparatus
from models.services.setup.save_lineup import save_lineup
from models.services.setup.stored_draft import lineup_draft_of
from seed_demo.lineups import BREAKER, METAL_CLAD
from seed_demo.people import LEAD, fixed_id
from seed_demo.site import SITE, ZONE, confirm_all

SPARE = "breaker 52-S"


def lend_the_spare(session: Session, now: datetime) -> None:
    """Take 52-5 out to the spare shelf; enter a spare breaker in its cell."""
    _move(session, "breaker 52-5", None, "Charging motor burnt: to the workshop", now)
    draft, version = lineup_draft_of(session, LEAD.id, fixed_id(METAL_CLAD))
    spare = ApparatusDraft(
        id=_apparatus(SPARE),
        kind="breaker",
        label=SPARE,
        plate=BREAKER | {"serial": "V-2317", "built_year": 2024},
    )
    now += timedelta(hours=1)
    save_lineup(
        session,
        person_id=LEAD.id,
        site_id=fixed_id(SITE),
        lineup_id=fixed_id(METAL_CLAD),
        draft=replace(
            draft,
            cells=[
                replace(cell, apparatus=[*cell.apparatus, spare])
                if cell.number == "5"
                else cell
                for cell in draft.cells
            ],
        ),
        seen_version=version,
        now=now,
        new_id=uuid4,
    )
    session.expire_all()  # the cells as they are now, as another request reads them
    confirm_all(session, fixed_id(METAL_CLAD), now + timedelta(hours=2))


def put_it_in_the_tie(session: Session, now: datetime) -> None:
    """Put 52-5 back in its cell, and the spare into the tie in the place of 52-T."""
    for label, cell, reason in (
        ("breaker 52-T", None, "Due for the maker's overhaul: to the spare shelf"),
        (SPARE, "4", "Stands in for 52-T while that is overhauled"),
        ("breaker 52-5", "5", "Back from the workshop with a new charging motor"),
    ):
        _move(session, label, cell, reason, now)
        now += timedelta(minutes=20)


def _move(
    session: Session, label: str, cell: str | None, reason: str, now: datetime
) -> None:
    move_apparatus(
        session,
        person_id=LEAD.id,
        apparatus_id=_apparatus(label),
        cell_id=None if cell is None else fixed_id(f"{METAL_CLAD} cell {cell}"),
        on=now.astimezone(ZoneInfo(ZONE)).date(),
        reason=reason,
        now=now,
        new_id=uuid4,
    )


def _apparatus(label: str) -> UUID:
    return fixed_id(f"{METAL_CLAD} {label}")
