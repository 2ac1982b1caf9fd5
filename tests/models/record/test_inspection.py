"""Who may answer a hold, witness or review point, and when."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from models.record.inspection import Asked, Notice, why_not_answer

NOW = datetime(2026, 11, 29, 12, tzinfo=UTC)
PARTY, OTHER = UUID(int=1), UUID(int=2)
WITNESS = Asked(kind="witness", party="P", person=PARTY, notice_hours=24, notices=())
HOLD = replace(WITNESS, kind="hold")
OUTSIDER = replace(HOLD, person=None)


def notice(given_h: float, work_h: float) -> Notice:
    return Notice(
        given_at=NOW + timedelta(hours=given_h), work_at=NOW + timedelta(hours=work_h)
    )


CASES = {
    "the party releases": (HOLD, "released", PARTY, "", ""),
    "another does not": (HOLD, "released", OTHER, "records", "P answers this"),
    "a lead does not either": (HOLD, "released", OTHER, "leads", "P answers this"),
    "a hold is not witnessed": (HOLD, "present", PARTY, "", "not answered with"),
    "for one without an account": (OUTSIDER, "released", OTHER, "records", ""),
    "but by no stranger": (OUTSIDER, "released", OTHER, "", "who work on this round"),
    "a lead withdraws": (HOLD, "withdrawn", OTHER, "leads", ""),
    "nobody else does": (HOLD, "withdrawn", PARTY, "records", "lead withdraws"),
    "absent without notice": (WITNESS, "absent", OTHER, "records", "No notice of at"),
    "absent on short notice": (
        replace(WITNESS, notices=[notice(-5, -1)]),
        "absent",
        OTHER,
        "records",
        "No notice of at",
    ),
    "absent before the work": (
        replace(WITNESS, notices=[notice(-30, 1)]),
        "absent",
        OTHER,
        "records",
        "nobody is absent before it",
    ),
    "absent after due notice": (
        replace(WITNESS, notices=[notice(-25, -1)]),
        "absent",
        OTHER,
        "records",
        "",
    ),
    "absent by the party": (
        replace(WITNESS, notices=[notice(-25, -1)]),
        "absent",
        PARTY,
        "",
        "who work on this round",
    ),
}


@pytest.mark.parametrize(
    ("point", "answer", "by", "as_", "why"), CASES.values(), ids=CASES
)
def test_who_may_answer(
    point: Asked, answer: str, by: UUID, as_: str, why: str
) -> None:
    said = why_not_answer(
        point, answer, by, leads=as_ == "leads", records=bool(as_), now=NOW
    )
    assert (why in said) if why else said == ""
