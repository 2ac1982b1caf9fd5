"""Dispositions, returned and withdrawn cards, waived signatures."""

from collections.abc import Callable
from uuid import UUID, uuid4

import pytest

from models.errors import ConflictError, InputError
from models.services.turnover import lead_acts
from tests.scenario import (
    CR,
    IR,
    LEAD,
    OTHER_LEAD,
    PASSWORD,
    SECOND,
    TECHNICIAN,
    VI,
    Cast,
    Work,
)

NO_REASONS = {"none": "", "blank": " \n ", "too long": "x" * 4001, "zero": "a\x00b"}


def dispose(
    work: Work,
    reading: UUID,
    decision: str,
    reason: str,
    by: Cast = LEAD,
    password: str = PASSWORD,
) -> None:
    lead_acts.dispose(
        work.session,
        person_id=by.id,
        reading_ids=[reading],
        new_id=uuid4,
        decision=decision,
        reason=reason,
        password=password,
        now=work.tick(),
    )


def give_back(work: Work, reason: str) -> None:
    lead_acts.return_card(
        work.session,
        person_id=LEAD.id,
        card_id=work.card("breaker 52", CR).id,
        return_id=uuid4(),
        reason=reason,
        now=work.tick(),
    )


def withdraw(work: Work, reason: str) -> None:
    lead_acts.withdraw_card(
        work.session,
        person_id=LEAD.id,
        card_id=work.card("breaker 52", VI).id,
        withdrawal_id=uuid4(),
        reason=reason,
        now=work.tick(),
    )


def waive(work: Work, reason: str) -> None:
    lead_acts.waive_seal(
        work.session,
        person_id=LEAD.id,
        round_id=work.round_id,
        performer_id=TECHNICIAN.id,
        waiver_id=uuid4(),
        reason=reason,
        now=work.tick(),
    )


@pytest.mark.parametrize("act", [give_back, withdraw, waive])
@pytest.mark.any_database
def test_every_decision_needs_a_reason(
    complete: Work, act: Callable[[Work, str], None]
) -> None:
    for case, reason in NO_REASONS.items():
        with pytest.raises(InputError) as refused:
            act(complete, reason)
        assert [f.field for f in refused.value.faults] == ["reason"], case


@pytest.mark.any_database
def test_a_disposition_needs_a_decision_and_a_reason(confirmed: Work) -> None:
    (reading,) = confirmed.read("bus", IR, "1.0")
    for case, reason in NO_REASONS.items():
        with pytest.raises(InputError) as refused:
            dispose(confirmed, reading, "let_it_be", reason)
        fields = [f.field for f in refused.value.faults]
        assert fields == ["decision", "reason"], case
    dispose(confirmed, reading, "reject", "  to be dried and repeated ")
    (found,) = confirmed.facts("bus", IR).dispositions
    assert (found.decision, found.reason, found.by_id) == (
        "reject",
        "to be dried and repeated",
        LEAD.id,
    )


def test_what_cannot_be_disposed_of(confirmed: Work) -> None:
    good, bad = confirmed.read("bus", IR, "9.0", "1.0")
    (own,) = confirmed.read("bus", IR, "1.1", by=LEAD)
    with pytest.raises(ConflictError, match="is within"):
        dispose(confirmed, good, "use_as_is", "fine")
    with pytest.raises(ConflictError, match="yourself: somebody else"):
        dispose(confirmed, own, "use_as_is", "fine")
    dispose(
        confirmed, own, "use_as_is", "seen by another, clear of harm", by=OTHER_LEAD
    )
    confirmed.again("bus", IR, bad, "1.2")
    with pytest.raises(ConflictError, match="superseded"):
        dispose(confirmed, bad, "use_as_is", "fine")


def test_the_last_disposition_holds_and_all_stay(confirmed: Work) -> None:
    (bad,) = confirmed.read("bus", IR, "1.0")
    dispose(confirmed, bad, "reject", "to be dried")
    dispose(confirmed, bad, "accept_with_limits", "dried; to be watched for a year")
    facts = confirmed.facts("bus", IR)
    (reading,) = facts.current
    holding = facts.disposition_of(reading)
    assert holding is not None and holding.decision == "accept_with_limits"
    assert len(facts.dispositions) == 2


def test_only_a_signed_card_is_returned(confirmed: Work) -> None:
    with pytest.raises(ConflictError, match="Only a signed card"):
        give_back(confirmed, "again")
    withdraw(confirmed, "tested at the works by its maker")
    confirmed.read("breaker 52", CR, "38.6", "39.4", "40.2")
    confirmed.confirm("breaker 52", CR, after=True)
    confirmed.sign(("breaker 52", CR))
    give_back(confirmed, "again")
    with pytest.raises(ConflictError, match="Only a signed card"):
        give_back(confirmed, "twice")


def test_a_signed_or_withdrawn_card_is_not_withdrawn(complete: Work) -> None:
    with pytest.raises(ConflictError, match="signed already"):
        withdraw(complete, "tested at the works by its maker")
    complete.give_back("breaker 52", VI)
    withdraw(complete, "tested at the works by its maker")
    with pytest.raises(ConflictError, match="withdrawn already"):
        withdraw(complete, "left out for the second time")


def test_what_stands_on_a_withdrawn_card_stays_and_is_judged(confirmed: Work) -> None:
    confirmed.read("breaker 52", VI, "broke_down")
    for weak in ("no", "not now", "xxxxxxxxxxxxxxxxxxxxxxxx"):
        with pytest.raises(InputError, match="Say why this test is left out"):
            withdraw(confirmed, weak)
    withdraw(confirmed, "the interrupter is to be renewed")
    facts = confirmed.facts("breaker 52", VI)
    assert [r.outcome for r in facts.current] == ["broke_down"]
    codes = {line.code for line in confirmed.gate().still}
    assert "undisposed_outside" in codes  # withdrawing hides nothing


def test_a_signature_is_waived_only_where_it_is_missing(complete: Work) -> None:
    with pytest.raises(ConflictError, match="not missing"):
        complete.waive(SECOND)
    complete.waive(TECHNICIAN)
    with pytest.raises(ConflictError, match="not missing"):
        complete.waive(TECHNICIAN)
    assert complete.gate().may_approve
    (waived,) = complete.gate().seals.content["waived"]
    assert waived["person"] == TECHNICIAN.name
    assert waived["reason"] == "has left the firm"


def test_a_signature_that_was_made_is_not_waived(complete: Work) -> None:
    complete.seal(TECHNICIAN, "performed")
    with pytest.raises(ConflictError, match="not missing"):
        complete.waive(TECHNICIAN)


def test_nothing_is_decided_on_a_round_turned_over(accepted: Work) -> None:
    reading = accepted.facts("bus", IR).current[0].id
    acts: dict[str, Callable[[], None]] = {
        "dispose": lambda: dispose(accepted, reading, "reject", "late"),
        "return": lambda: give_back(accepted, "late"),
        "withdraw": lambda: withdraw(accepted, "late"),
        "waive": lambda: waive(accepted, "late"),
    }
    for act in acts.values():
        with pytest.raises(ConflictError, match="nothing more can be entered"):
            act()
