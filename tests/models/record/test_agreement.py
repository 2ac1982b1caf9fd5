"""Who may agree to a decision, and what a reason of substance is."""

from uuid import UUID

import pytest

from models.record.agreement import Question, Somebody, weak_reason, why_not_agree

DECIDER, TAKER, OTHER = UUID(int=1), UUID(int=2), UUID(int=3)

# kind, who is asked, their role, whether the owner has people -> may they answer
CASES: dict[str, tuple[str, UUID, str, bool, bool]] = {
    "the owner, of a reading": ("reading", OTHER, "owner", True, True),
    "the owner, of a card": ("card", OTHER, "owner", True, True),
    "a second lead, of a reading, an owner there": (
        "reading",
        OTHER,
        "lead",
        True,
        False,
    ),
    "a second lead, of a reading, no owner": ("reading", OTHER, "lead", False, True),
    "a second lead, of a card": ("card", OTHER, "lead", True, True),
    "who decided": ("card", DECIDER, "lead", False, False),
    "who took the reading": ("reading", TAKER, "lead", False, False),
    "a technician": ("card", OTHER, "technician", False, False),
}


@pytest.mark.parametrize(
    ("kind", "who", "role", "owner", "may"), CASES.values(), ids=CASES
)
def test_who_may_answer(
    kind: str, who: UUID, role: str, owner: bool, may: bool
) -> None:
    question = Question(
        kind=kind, decided_by=DECIDER, taken_by=TAKER, owner_has_people=owner
    )
    said = why_not_agree(question, Somebody(id=who, roles=frozenset({role})))
    assert (said == "") is may


REASONS = {
    "ok": False,
    "": False,
    " " * 40: False,
    "ok " * 20: False,
    "xxxxxxxxxxxxxxxxxxxxxxxxxxxx": False,
    "fine by me": False,
    "dust on the barrier, cleaned; retest tomorrow": True,
    "clear of anything that could harm it": True,
}


@pytest.mark.parametrize(("text", "enough"), REASONS.items(), ids=map(repr, REASONS))
def test_a_reason_of_substance(text: str, enough: bool) -> None:
    assert (weak_reason(text) == "") is enough
