"""Checking a table against a licensed copy: who may, what is refused, what holds."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.criteria.loader import load
from models.errors import ForbiddenError, InputError, NotFoundError
from models.judging import Criteria
from models.schema import Lineup, Point, TableCheck
from models.services.criteria.check_table import (
    CONFIRMED,
    CORRECTED,
    LONGEST_PLACE,
    LONGEST_REASON,
    RowAct,
    review_checks,
    store_checks,
)
from models.services.criteria.criteria_in_force import criteria_in_force
from models.services.criteria.table_checks import WITHDRAWN, checks_of
from models.services.keeping.check_record import check_record
from tests.models.services.keeping.tampering import change, without_triggers
from tests.scenario import (
    BEGAN,
    IR,
    LEAD,
    OTHER_LEAD,
    OWNER,
    STRANGER,
    TECHNICIAN,
    Work,
    fixed_id,
    lineup_id,
)
from tests.table_checking import act, check_rows

PRESSURE, FACTORS, MINIMUM = (
    "vacuum_pressure",
    "insulation_correction_20",
    "insulation_minimum",
)
ONE = "residual pressure"
CLASS = "15 kV class"
FIRM, OWNING = fixed_id(LEAD.firm), fixed_id(OWNER.firm)


def review(session: Session, acts: Sequence[RowAct], **said: Any) -> Any:
    """Review, for a lead, with an edition unless another is given."""
    given = {"person_id": LEAD.id, "key": PRESSURE, "edition": "2023", "clause": ""}
    return review_checks(session, acts=acts, **{**given, **said})


def faults(session: Session, acts: Sequence[RowAct], **said: Any) -> dict[str, str]:
    with pytest.raises(InputError) as refused:
        review(session, acts, **said)
    return {fault.field: fault.message for fault in refused.value.faults}


def in_force(session: Session) -> Criteria:
    lineup = session.get_one(Lineup, lineup_id())
    return criteria_in_force(session, lineup, FIRM)


def provenance(criteria: Criteria, key: str, row: str) -> str:
    found = next(r for r in criteria.table(key).rows if r["row"] == row)
    return str(found["provenance"])


@pytest.mark.parametrize("who", [LEAD, OWNER, STRANGER], ids=lambda cast: cast.sign_in)
def test_a_lead_or_an_owner_checks_for_their_own(place: Session, who: Any) -> None:
    assert check_rows(place, who, PRESSURE) == 1
    row = place.scalars(select(TableCheck)).one()
    assert (row.organisation_id, row.by_id) == (fixed_id(who.firm), who.id)
    assert (row.act, row.edition, row.clause) == (CONFIRMED, "2023", "page 12")


@pytest.mark.any_database
def test_a_technician_does_not(place: Session) -> None:
    with pytest.raises(ForbiddenError, match="lead or the owner"):
        check_rows(place, TECHNICIAN, PRESSURE)


@pytest.mark.any_database
def test_there_is_no_such_table(place: Session) -> None:
    with pytest.raises(NotFoundError):
        review(place, [], key="no_such_table")


def first() -> RowAct:
    return act(PRESSURE, ONE)


# name -> (the acts, what else is said, the field of the fault, a part of its words)
REFUSED: dict[str, tuple[Any, Mapping[str, Any], str, str]] = {
    "nothing chosen": (list, {}, "", "No row"),
    "no edition": (lambda: [first()], {"edition": " "}, "edition", "which edition"),
    "an edition like a book": (
        lambda: [first()],
        {"edition": "x" * (LONGEST_PLACE + 1)},
        "edition",
        "under",
    ),
    "a clause that cannot be kept": (
        lambda: [first()],
        {"clause": "a\0b"},
        "clause",
        "cannot be kept",
    ),
    "a row that is not there": (
        lambda: [replace(first(), number=1)],
        {},
        "act_1",
        "not in the table",
    ),
    "a row before the first": (
        lambda: [replace(first(), number=-1)],
        {},
        "act_-1",
        "not in the table",
    ),
    "figures that are no longer shipped": (
        lambda: [replace(first(), digest="0" * 64)],
        {},
        "act_0",
        "another figure",
    ),
    "practice": (
        lambda: [act("relay_tolerance", "the greater of 5 % and 35 ms")],
        {"key": "relay_tolerance"},
        "act_0",
        "No document prints",
    ),
    "an act that nobody knows": (
        lambda: [replace(first(), act="approved")],
        {},
        "act_0",
        "Choose",
    ),
    "confirmed and yet another figure": (
        lambda: [replace(first(), figures={"limit_pa": "0.02"})],
        {},
        "act_0",
        "differs",
    ),
    "corrected without a figure": (
        lambda: [act(PRESSURE, ONE, CORRECTED, "why", limit_pa=" ")],
        {},
        "act_0",
        "Write the figure",
    ),
    "corrected without a reason": (
        lambda: [act(PRESSURE, ONE, CORRECTED, limit_pa="0.02")],
        {},
        "reason_0",
        "Write why",
    ),
    "a reason like a book": (
        lambda: [
            act(PRESSURE, ONE, CORRECTED, "x" * (LONGEST_REASON + 1), limit_pa="0.02")
        ],
        {},
        "reason_0",
        "under",
    ),
    "no number": (
        lambda: [act(PRESSURE, ONE, CORRECTED, "why", limit_pa="0,02")],
        {},
        "figure_0_limit_pa",
        "comma",
    ),
    "a bound": (
        lambda: [act(PRESSURE, ONE, CORRECTED, "why", limit_pa="<0.02")],
        {},
        "figure_0_limit_pa",
        "plain number",
    ),
    "the figure that stands there": (
        lambda: [act(PRESSURE, ONE, CORRECTED, "why", limit_pa="1e-2")],
        {},
        "figure_0_limit_pa",
        "confirm the row",
    ),
    "another sign": (
        lambda: [act(PRESSURE, ONE, CORRECTED, "why", limit_pa="-0.02")],
        {},
        "figure_0_limit_pa",
        "another sign",
    ),
    "no factor can be zero": (
        lambda: [act(FACTORS, "0 degC", CORRECTED, "why", solid="0")],
        {"key": FACTORS},
        "figure_2_solid",
        "another sign",
    ),
    "what names the row": (
        lambda: [act(FACTORS, "0 degC", CORRECTED, "why", temperature_c="1")],
        {"key": FACTORS},
        "figure_2_temperature_c",
        "cannot be corrected",
    ),
    "confirmed with a reason like a book": (
        lambda: [replace(first(), reason="x" * (LONGEST_REASON + 1))],
        {},
        "reason_0",
        "under",
    ),
    "confirmed with a reason that cannot be kept": (
        lambda: [replace(first(), reason="a\0b")],
        {},
        "reason_0",
        "cannot be kept",
    ),
    "a figure like a book": (
        lambda: [act(PRESSURE, ONE, CORRECTED, "why", limit_pa="0.02" + "0" * 37)],
        {},
        "figure_0_limit_pa",
        "under 40",
    ),
    "a check before it that there is not": (
        lambda: [replace(first(), before=str(fixed_id("no check")))],
        {},
        "act_0",
        "look again",
    ),
    "a withdrawal of nothing": (
        lambda: [act(PRESSURE, ONE, WITHDRAWN, "why")],
        {},
        "act_0",
        "Nobody has checked",
    ),
}


@pytest.mark.parametrize(
    ("acts", "said", "field", "words"), REFUSED.values(), ids=REFUSED
)
@pytest.mark.any_database
def test_what_is_refused(
    place: Session, acts: Any, said: Mapping[str, Any], field: str, words: str
) -> None:
    found = faults(place, acts(), **said)
    assert words in found.get(field, ""), found


@pytest.mark.any_database
def test_every_fault_is_said_at_once(place: Session) -> None:
    acts = [
        act(FACTORS, "0 degC", CORRECTED, solid="4,0"),
        act(FACTORS, "5 degC", WITHDRAWN),
    ]
    found = faults(place, acts, key=FACTORS, edition="")
    assert set(found) == {
        *("edition", "figure_2_solid", "reason_2", "act_3", "reason_3"),
    }


def test_a_review_stores_nothing(place: Session) -> None:
    planned = review(place, [act(PRESSURE, ONE, CORRECTED, "why", limit_pa="0.02")])
    assert [p.words for p in planned] == [
        ["At most 0.02 Pa in the place of 0.01 Pa (why)"]
    ]
    assert place.scalars(select(TableCheck)).all() == []


def test_a_check_supersedes_the_one_before_and_both_stay(place: Session) -> None:
    check_rows(place, LEAD, PRESSURE)
    later = BEGAN - timedelta(days=1)  # a clock that was put back
    corrected = {ONE: {"limit_pa": "0.02"}}
    check_rows(place, OTHER_LEAD, PRESSURE, corrected=corrected, at=later)
    check_rows(place, LEAD, PRESSURE, withdrawn=[ONE])
    rows = place.scalars(select(TableCheck).order_by(TableCheck.at)).all()
    assert [row.act for row in rows] == [CONFIRMED, CORRECTED, WITHDRAWN]
    assert [row.supersedes_id for row in rows] == [None, rows[0].id, rows[1].id]
    assert rows[1].figures == {"limit_pa": "0.02"}  # as typed
    assert checks_of(place, FIRM) == {}


def test_a_row_that_somebody_checked_meanwhile_is_looked_at_again(
    place: Session,
) -> None:
    seen = act(PRESSURE, ONE)
    check_rows(place, OTHER_LEAD, PRESSURE, corrected={ONE: {"limit_pa": "0.02"}})
    found = faults(place, [seen])
    assert found == {
        "act_0": f"This row was checked since by {OTHER_LEAD.name}: look again."
    }


def test_a_figure_is_kept_without_what_nobody_sees(place: Session) -> None:
    typed = "\0 0.02\u200b"
    check_rows(place, LEAD, PRESSURE, corrected={ONE: {"limit_pa": typed}})
    kept = place.scalars(select(TableCheck.figures)).one()
    assert kept == {"limit_pa": "0.02"}


def test_what_is_written_is_kept_in_one_line(place: Session) -> None:
    store_checks(
        place,
        person_id=LEAD.id,
        key=PRESSURE,
        edition=" 2023,\n second  print ",
        clause="",
        acts=[first()],
        now=BEGAN,
        new_id=uuid4,
    )
    assert place.scalars(select(TableCheck.edition)).one() == "2023, second print"


# What holds for a lineup


def test_the_firm_that_plans_is_heard_where_the_owner_says_nothing(
    place: Session,
) -> None:
    check_rows(place, LEAD, PRESSURE, corrected={ONE: {"limit_pa": "0.02"}})
    found = in_force(place).table(PRESSURE).rows[0]
    assert (found["limit_pa"], found["provenance"]) == (0.02, "corrected")


def test_the_owner_goes_before_the_firm_row_by_row(place: Session) -> None:
    check_rows(
        place, LEAD, FACTORS, corrected={"0 degC": {"solid": "0.41", "oil": "0.26"}}
    )
    check_rows(place, OWNER, FACTORS, ["0 degC"])
    rows = {row["row"]: row for row in in_force(place).table(FACTORS).rows}
    assert rows["0 degC"]["solid"] == 0.4
    assert OWNER.name in rows["0 degC"]["source"]
    assert LEAD.name in rows["5 degC"]["source"]
    check_rows(place, OWNER, FACTORS, withdrawn=["0 degC"])
    rows = {row["row"]: row for row in in_force(place).table(FACTORS).rows}
    assert rows["0 degC"]["solid"] == 0.41


def test_a_strangers_check_is_nobodys_business(place: Session) -> None:
    check_rows(place, STRANGER, PRESSURE)
    assert in_force(place) == load()


def test_a_round_planned_afterwards_says_so_and_an_earlier_one_does_not(
    place: Session,
) -> None:
    before = Work.begin(place)
    old = before.card("bus", IR).points[0].rule
    check_rows(place, LEAD, MINIMUM, corrected={CLASS: {"minimum": "6000"}})
    assert place.get_one(Point, before.card("bus", IR).points[0].id).rule == old
    before.confirm("bus", IR)
    before.read("bus", IR, "5.5")
    assert set(before.verdicts("bus", IR).values()) == {"within"}


def test_a_rule_planned_afterwards_takes_the_corrected_figure(place: Session) -> None:
    check_rows(place, LEAD, MINIMUM, corrected={CLASS: {"minimum": "6000"}})
    work = Work.begin(place)
    work.confirm("bus", IR)
    work.read("bus", IR, "5.5")
    facts = work.facts("bus", IR)
    judgement = facts.current[0].judgements[-1]
    assert judgement.verdict == "outside"  # 5.5 ± 0.34 against 6
    said = " ".join(facts.say(judgement)["working"])
    assert "Minimum 6000 MΩ in the place of 5000 MΩ (so printed)" in said
    assert f"by {LEAD.name} of {LEAD.firm}" in said
    assert check_record(place).faults == []


def test_a_check_of_a_figure_that_is_shipped_no_longer_does_not_hold(
    place: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    check_rows(place, OWNER, PRESSURE)
    check_rows(place, LEAD, PRESSURE, corrected={ONE: {"limit_pa": "0.02"}})
    assert provenance(in_force(place), PRESSURE, ONE) == "confirmed"
    without_triggers(place, "table_check")
    own = place.scalars(
        select(TableCheck.id).where(TableCheck.organisation_id == OWNING)
    ).one()
    change(place, "table_check", f"row_digest = '{'0' * 64}'", own)
    # The owner's check was of another figure; the firm's is of today's.
    assert provenance(in_force(place), PRESSURE, ONE) == "corrected"
    assert checks_of(place, OWNING) == {}
    faults = check_record(place).faults
    assert any("check of a table row" in fault for fault in faults), faults
