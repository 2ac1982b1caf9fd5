"""Planning a round: which cards and points, by which rules."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from models.errors import InputError, NotFoundError
from models.schema import Round
from models.services.setup.plan_round import plan_round
from tests.scenario import (
    BEGAN,
    CR,
    DW,
    IR,
    LEAD,
    RT,
    VI,
    Work,
    lineup_id,
)

GIVEN: dict[str, Any] = {
    "person_id": LEAD.id,
    "lineup_id": lineup_id(),
    "kind": "acceptance",
    "programme": "Acceptance, any gear",
    "now": BEGAN,
    "new_id": uuid4,
}


def plan(session: Session, **changes: Any) -> UUID:
    return plan_round(session, **GIVEN | changes)


def test_a_card_for_each_procedure_on_each_apparatus(opened: Work) -> None:
    """In the order of work: the withstand of a bus after its insulation."""
    assert list(opened.cards) == [
        ("bus", IR),
        ("bus", CR),
        ("bus", DW),
        ("breaker 52", IR),
        ("breaker 52", CR),
        ("breaker 52", VI),
        ("relay 51", RT),
    ]
    assert [card.position for card in opened.cards.values()] == list(range(1, 8))


def test_points_and_groups(opened: Work) -> None:
    points = [(p.label, p.group) for p in opened.card("breaker 52", IR).points]
    assert points == [
        ("A-G", "closed"),
        ("B-G", "closed"),
        ("C-G", "closed"),
        ("A-B", "closed"),
        ("B-C", "closed"),
        ("C-A", "closed"),
        ("pole A, line to load, open", "open"),
        ("pole B, line to load, open", "open"),
        ("pole C, line to load, open", "open"),
    ]
    # 0.95, 2, 3, 5 and 10 times 480 A
    relay = opened.card("relay 51", RT).points
    assert [p.given["applied_a"] for p in relay] == [456, 960, 1440, 2400, 4800]


def test_each_point_carries_its_rule(opened: Work) -> None:
    """The nameplate's limit is in the rule, and so is the class's minimum."""
    (high,) = (
        b
        for b in opened.card("breaker 52", CR).points[0].rule["bounds"]
        if b["kind"] == "high"
    )
    assert high["value"] == 60.0
    (low,) = opened.card("bus", IR).points[0].rule["bounds"]
    assert low["value"] == 5000.0  # 15 kV class, MOhm


def test_a_rule_stays_when_the_nameplate_changes(opened: Work) -> None:
    """What was planned is judged as it was planned."""
    rule = dict(opened.card("breaker 52", CR).points[0].rule)
    apparatus = opened.card("breaker 52", CR).apparatus
    apparatus.nameplate = apparatus.nameplate | {"contact_limit_uohm": 10.0}
    opened.session.flush()
    opened.confirm("breaker 52", CR)
    opened.read("breaker 52", CR, "38.6")
    (reading,) = opened.facts("breaker 52", CR).readings
    assert reading.rule == rule


REFUSED: dict[str, tuple[dict[str, Any], list[str]]] = {
    "another kind than the programme's": ({"kind": "maintenance"}, ["programme"]),
    "a kind that is none": ({"kind": "party"}, ["programme"]),
}


@pytest.mark.any_database
def test_what_is_not_planned(place: Session) -> None:
    for case, (changes, fields) in REFUSED.items():
        with pytest.raises(InputError) as refused:
            plan(place, **changes)
        assert [f.field for f in refused.value.faults] == fields, case
    with pytest.raises(NotFoundError):
        plan(place, programme="Everything, twice")


def test_one_round_at_a_time(accepted: Work) -> None:
    session = accepted.session
    later = BEGAN + timedelta(days=90)
    second = plan(session, now=later)
    for kind in ("acceptance", "maintenance"):
        with pytest.raises(
            InputError, match="Acceptance round 2 of MV-1 is still open"
        ):
            plan(
                session,
                kind=kind,
                programme=f"{kind.capitalize()}, five procedures",
                now=later,
            )
    found = session.get_one(Round, second)
    assert (found.title, found.state, found.number) == ("Acceptance round 2", "open", 2)
