"""A second person agrees by name to what a lead decides, or refuses it."""

from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
    WrongPasswordError,
)
from models.schema import LogEntry, Person
from models.services.keeping.check_record import check_record
from models.services.setup.plan_round import plan_round
from models.services.turnover import agreements, lead_acts
from models.services.turnover.package import draft_document
from tests.scenario import (
    BEGAN,
    IR,
    LEAD,
    OTHER_LEAD,
    OWNER,
    PASSWORD,
    STRANGER,
    TECHNICIAN,
    VI,
    Cast,
    Work,
    lineup_id,
)


def still(work: Work) -> set[str]:
    return {line.code for line in work.gate().still}


def word(work: Work) -> str:
    document = draft_document(
        work.session, person_id=LEAD.id, round_id=work.round_id, now=work.at
    )
    said: str = document["conformity"]["word"]
    return said


def outside(work: Work) -> UUID:
    (reading,) = work.read("bus", IR, "1.0")
    return reading


def let_stand(work: Work, reading: UUID, reason: str, password: str) -> None:
    lead_acts.dispose(
        work.session,
        person_id=LEAD.id,
        reading_ids=[reading],
        new_id=uuid4,
        decision="use_as_is",
        reason=reason,
        password=password,
        now=work.tick(),
    )


@pytest.mark.any_database
def test_an_outside_reading_is_not_let_stand_by_ok_and_without_a_password(
    confirmed: Work,
) -> None:
    reading = outside(confirmed)
    with pytest.raises(InputError) as refused:
        let_stand(confirmed, reading, "ok", "")
    assert [f.field for f in refused.value.faults] == ["reason", "password"]
    with pytest.raises(WrongPasswordError):
        let_stand(confirmed, reading, "dusty barrier, dried since then", "guess")
    assert confirmed.facts("bus", IR).dispositions == []


def test_an_outside_reading_waits_for_the_owner(confirmed: Work) -> None:
    decision = confirmed.dispose(outside(confirmed), agreed=False)
    assert "agreement" in still(confirmed)
    assert "disposed" not in {line.code for line in confirmed.gate().settled}
    with pytest.raises(ForbiddenError, match="The owner's representative"):
        confirmed.answer(decision, by=OTHER_LEAD)
    with pytest.raises(ForbiddenError, match="decided this yourself"):
        confirmed.answer(decision, by=LEAD)
    confirmed.answer(decision)
    assert "agreement" not in still(confirmed)
    assert "disposed" in {line.code for line in confirmed.gate().settled}
    with pytest.raises(ConflictError, match="does not wait"):
        confirmed.answer(decision)


def test_without_an_owners_person_a_second_lead_agrees(confirmed: Work) -> None:
    confirmed.session.get_one(Person, OWNER.id).active = False
    decision = confirmed.dispose(outside(confirmed), agreed=False)
    confirmed.answer(decision, by=OTHER_LEAD)
    assert "agreement" not in still(confirmed)


def test_what_is_refused_is_to_be_decided_anew(confirmed: Work) -> None:
    reading = outside(confirmed)
    decision = confirmed.dispose(reading, agreed=False)
    with pytest.raises(InputError):
        confirmed.answer(decision, "refused")  # a refusal has a reason
    confirmed.answer(decision, "refused", reason="dry it first")
    assert {"undisposed_outside"} <= still(confirmed)
    assert "agreement" not in still(confirmed)
    confirmed.dispose(reading, agreed=False)
    assert "agreement" in still(confirmed)


def test_an_outside_reading_agreed_to_prints_as_the_round_was_opened(
    complete: Work,
) -> None:
    for setting, said in (
        ("does_not_conform", "does_not_conform"),
        ("deviation", "conforms_with_deviations"),
    ):
        with complete.session.begin_nested() as savepoint:
            first = complete.facts("bus", IR).current[0]
            first.card.round.outside_let_stand = setting
            complete.give_back("bus", IR)
            bad = complete.again("bus", IR, first.id, "1.0")
            decision = complete.dispose(bad, agreed=False)
            complete.sign(("bus", IR))
            assert word(complete) == "does_not_conform"
            complete.answer(decision)
            assert word(complete) == said
            savepoint.rollback()
        complete.session.expire_all()


def test_a_withdrawn_card_waits_and_a_second_lead_may_agree(complete: Work) -> None:
    complete.give_back("breaker 52", VI)
    withdrawal = complete.withdraw("breaker 52", VI, agreed=False)
    assert still(complete) == {"agreement"}
    assert word(complete) == "not_complete"
    complete.answer(withdrawal, by=OTHER_LEAD)
    assert still(complete) == {"seals"}
    assert word(complete) == "conforms_with_deviations"
    document = draft_document(
        complete.session, person_id=LEAD.id, round_id=complete.round_id, now=complete.at
    )
    (deviation,) = document["conformity"]["deviations"]
    assert (deviation["by"], deviation["agreed_by"]) == (LEAD.name, OTHER_LEAD.name)


def test_a_refused_withdrawal_puts_the_card_back(confirmed: Work) -> None:
    withdrawal = confirmed.withdraw("breaker 52", VI, agreed=False)
    confirmed.answer(withdrawal, "refused", reason="test it")
    assert confirmed.facts("breaker 52", VI).state == "not_begun"
    with pytest.raises(ConflictError, match="stays in the programme"):
        confirmed.withdraw("breaker 52", VI)
    confirmed.fill("breaker 52", VI)
    assert confirmed.facts("breaker 52", VI).state == "signed"


def test_a_round_of_withdrawn_cards_is_not_turned_over(opened: Work) -> None:
    for label, procedure in opened.cards:
        opened.withdraw(label, procedure)
    assert still(opened) == {"untested"}
    assert word(opened) == "not_complete"


def test_who_sees_what_waits(confirmed: Work) -> None:
    decision = confirmed.dispose(outside(confirmed), agreed=False)
    withdrawal = confirmed.withdraw("breaker 52", VI, agreed=False)

    def waiting(by: Cast) -> list[UUID]:
        found = agreements.waiting_agreements(confirmed.session, person_id=by.id)
        return [one.subject_id for one in found]

    assert waiting(OWNER) == [decision, withdrawal]
    assert waiting(OTHER_LEAD) == [withdrawal]
    assert waiting(LEAD) == waiting(TECHNICIAN) == waiting(STRANGER) == []
    with pytest.raises(NotFoundError):
        agreements.agreement_view(
            confirmed.session, person_id=STRANGER.id, subject_id=decision
        )


def test_an_answer_is_logged_with_the_name_and_checked(confirmed: Work) -> None:
    confirmed.answer(confirmed.dispose(outside(confirmed), agreed=False))
    entry = confirmed.session.scalars(
        select(LogEntry).order_by(LogEntry.seq.desc()).limit(1)
    ).one()
    assert (entry.action, entry.actor_id) == ("answer decision", OWNER.id)
    assert check_record(confirmed.session).faults == []


@pytest.mark.any_database
def test_only_the_own_password_answers(confirmed: Work) -> None:
    decision = confirmed.dispose(outside(confirmed), agreed=False)
    with pytest.raises(WrongPasswordError):
        agreements.answer_decision(
            confirmed.session,
            person_id=OWNER.id,
            subject_id=decision,
            agreement_id=uuid4(),
            answer="agreed",
            reason="",
            password=f"{PASSWORD}!",
            now=confirmed.tick(),
        )


@pytest.mark.any_database
def test_a_setting_that_there_is_not_is_refused(place: Session) -> None:
    """The round is not opened."""
    with pytest.raises(InputError, match="outside reading"):
        plan_round(
            place,
            person_id=LEAD.id,
            lineup_id=lineup_id(),
            kind="acceptance",
            programme="Acceptance, any gear",
            outside_let_stand="conforms",
            now=BEGAN,
            new_id=uuid4,
        )
