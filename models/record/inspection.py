"""Hold, witness and review points: what each may be answered with, and by whom.

The words are the trade's: at a hold point work stops until a named person releases
it; to a witness point a party is invited, and after due notice work goes on without
them; at a review point a record is looked at before turnover (common practice; in
quality plans after ISO 10005).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

KINDS = {
    "hold": "hold point",
    "witness": "witness point",
    "review": "review point",
}
ANSWERS = {
    "hold": ("released",),
    "witness": ("present", "absent"),
    "review": ("reviewed",),
}
WITHDRAWN = "withdrawn"
SAID = {
    "released": "released",
    "present": "present",
    "absent": "absent after notice",
    "reviewed": "reviewed",
    WITHDRAWN: "withdrawn",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """The party was told at *given_at* that the work is done at *work_at*."""

    given_at: datetime
    work_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A point that waits. *person*: its party, where they have an account."""

    kind: str
    party: str
    person: UUID | None
    notice_hours: float
    notices: Sequence[Notice]


def why_not_answer(
    point: Asked, answer: str, by: UUID, *, leads: bool, records: bool, now: datetime
) -> str:
    """Return why *by* may not answer so now; empty where they may.

    A party with an account answers for itself; for one without, whoever records on
    the site says so under their own name. *leads*: they are a lead of this round;
    *records*: they may record on it.
    """
    if answer == WITHDRAWN:
        return "" if leads else "A commissioning lead withdraws a point."
    if answer not in ANSWERS[point.kind]:
        return f"A {KINDS[point.kind]} is not answered with '{answer}'."
    if answer == "absent":
        return _why_not_absent(point, now) if records else NOT_YOURS
    if point.person is not None and by != point.person:
        return f"{point.party} answers this, with their own password."
    if point.person is None and not records:
        return NOT_YOURS
    return ""


NOT_YOURS = "This is for those who work on this round."


def _why_not_absent(point: Asked, now: datetime) -> str:
    """Return why nobody can be called absent yet: no due notice, or too early."""
    least = timedelta(hours=point.notice_hours)
    due = [one for one in point.notices if one.work_at - one.given_at >= least]
    if not due:
        hours = f"{point.notice_hours:g} h"
        return f"No notice of at least {hours} is recorded: give it first."
    if now < min(one.work_at for one in due):
        return "The work is announced for later: nobody is absent before it."
    return ""
