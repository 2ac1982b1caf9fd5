"""The package: who signs it when, what voids a signature, what an approval does."""

import hashlib
import json
from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import select

from models.errors import (
    ConflictError,
    InputError,
    NotFoundError,
    WrongPasswordError,
)
from models.schema import Authority, LogEntry, Package, Round, Signature
from models.services.turnover import acceptance, package
from models.signing import seals
from tests.scenario import (
    CR,
    IR,
    LEAD,
    OTHER_LEAD,
    OWNER,
    PASSWORD,
    RT,
    SECOND,
    TECHNICIAN,
    Cast,
    Work,
)


def prepare(
    work: Work, by: Cast, meaning: str, password: str = PASSWORD
) -> package.Prepared:
    return package.prepare(
        work.session,
        person_id=by.id,
        round_id=work.round_id,
        meaning=meaning,
        password=password,
        now=work.tick(),
    )


def store(work: Work, prepared: package.Prepared, pdf: bytes = b"file") -> None:
    package.store_signed(
        work.session,
        prepared=prepared,
        round_id=work.round_id,
        pdf=pdf,
        now=work.tick(),
    )


def shared(work: Work, by: Cast) -> None:
    """Have somebody else sign one of the cards: two have performed."""
    work.hand_over("relay 51", RT, by)


def files(work: Work) -> list[tuple[int, int, str]]:
    """Return (attempt, seq, field) of each file that was stored."""
    return [
        (one.attempt, file.seq, file.field)
        for one in work.session.scalars(select(Package).order_by(Package.attempt))
        for file in one.files
    ]


def test_performed_then_approved_then_accepted(complete: Work) -> None:
    shared(complete, SECOND)
    complete.turn_over()
    assert files(complete) == [  # the fields are numbered by name, I before W
        (1, 1, "performed_2"),
        (1, 2, "performed_1"),
        (1, 3, "approved"),
    ]
    assert complete.session.get_one(Round, complete.round_id).state == "accepted"
    view = package.package_view(
        complete.session, person_id=OWNER.id, round_id=complete.round_id
    )
    assert view is not None and view.approved and view.stands
    assert [(s["by"], s["meaning"]) for s in view.signatures] == [
        (TECHNICIAN.name, "performed"),
        (SECOND.name, "performed"),
        (LEAD.name, "approved"),
        (OWNER.name, "accepted"),
    ]


def test_each_signature_stands_over_the_file_it_made(complete: Work) -> None:
    complete.turn_over()
    session = complete.session
    root = session.scalars(select(Authority)).one().certificate_pem
    rows = session.scalars(
        select(Signature)
        .where(Signature.package_id.is_not(None))
        .order_by(Signature.at)
    ).all()
    (made,) = session.scalars(select(Package))
    by_meaning = {row.meaning: json.loads(row.statement) for row in rows}
    for row in rows:
        seals.check_seal(row.seal, row.statement.encode(), root)
    assert by_meaning["performed"]["sha256"] == made.files[0].sha256
    assert by_meaning["approved"]["sha256"] == made.files[1].sha256
    assert by_meaning["accepted"]["sha256"] == made.files[1].sha256
    assert made.files[1].sha256 == hashlib.sha256(made.files[1].pdf).hexdigest()
    logged = session.scalars(
        select(LogEntry.action)
        .where(LogEntry.action.like("sign package%"))
        .order_by(LogEntry.seq)
    ).all()
    assert logged == [f"sign package as {row.meaning}" for row in rows]


@pytest.mark.any_database
def test_a_wrong_password_signs_nothing(complete: Work) -> None:
    with pytest.raises(WrongPasswordError):
        prepare(complete, TECHNICIAN, "performed", "not the password")
    complete.seal(TECHNICIAN, "performed")
    with pytest.raises(WrongPasswordError):
        prepare(complete, LEAD, "approved", "not the password")
    complete.seal(LEAD, "approved")
    with pytest.raises(WrongPasswordError):
        acceptance.accept_package(
            complete.session,
            person_id=OWNER.id,
            round_id=complete.round_id,
            sha256=stored_digest(complete),
            password="not the password",
            now=complete.at,
        )
    assert complete.session.get_one(Round, complete.round_id).state == "approved"


def test_only_the_file_that_was_verified_is_accepted(complete: Work) -> None:
    complete.turn_over(accept=False)
    with pytest.raises(ConflictError, match="is not the one that was signed last"):
        acceptance.accept_package(
            complete.session,
            person_id=OWNER.id,
            round_id=complete.round_id,
            sha256=hashlib.sha256(b"another file").hexdigest(),
            password=PASSWORD,
            now=complete.at,
        )
    assert complete.session.get_one(Round, complete.round_id).state == "approved"


def stored_digest(work: Work) -> str:
    """Return the SHA-256 of the file that the owner is to accept."""
    file = acceptance.file_to_accept(
        work.session, person_id=OWNER.id, round_id=work.round_id
    )
    return hashlib.sha256(file.pdf).hexdigest()


@pytest.mark.any_database
def test_who_may_not_sign_as_what(complete: Work) -> None:
    for by, meaning, words in (
        (SECOND, "performed", "by those who performed the tests"),
        (LEAD, "performed", "by those who performed the tests"),
        (TECHNICIAN, "approved", "Approval is the commissioning lead's"),
        (LEAD, "approved", "has not signed the package yet"),
    ):
        with pytest.raises(ConflictError, match=words):
            prepare(complete, by, meaning)


@pytest.mark.parametrize("meaning", ["accepted", "seen", ""])
@pytest.mark.any_database
def test_no_other_meaning_is_prepared(complete: Work, meaning: str) -> None:
    for by in (TECHNICIAN, LEAD):
        with pytest.raises(InputError, match="performed or approved"):
            prepare(complete, by, meaning)


@pytest.mark.any_database
def test_nothing_is_signed_before_the_gate_is_ready(opened: Work) -> None:
    opened.fill("bus", IR)
    with pytest.raises(ConflictError, match="nothing else stands in the way"):
        prepare(opened, TECHNICIAN, "performed")
    with pytest.raises(ConflictError, match="Settle what stands in the way"):
        prepare(opened, LEAD, "approved")


@pytest.mark.any_database
def test_who_performed_does_not_approve(complete: Work) -> None:
    shared(complete, LEAD)
    complete.seal(TECHNICIAN, "performed")
    complete.seal(LEAD, "performed")
    with pytest.raises(ConflictError, match="somebody else has to approve it"):
        prepare(complete, LEAD, "approved")
    complete.seal(OTHER_LEAD, "approved")


# What somebody does between two signatures.
CHANGES: dict[str, Any] = {
    "a card returned and signed again": lambda work: (
        work.give_back("bus", CR),
        work.sign(("bus", CR)),
    ),
    "a reading measured again": lambda work: (
        work.give_back("bus", CR),
        work.again("bus", CR, work.facts("bus", CR).current[0].id, "38.7"),
        work.sign(("bus", CR)),
    ),
    "a note": lambda work: (
        work.give_back("bus", CR),
        work.store(work.entry(work.card("bus", CR), "note", text="late")),
        work.sign(("bus", CR)),
    ),
    "a signature waived": lambda work: work.waive(SECOND),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_changed_round_voids_the_signatures_on_its_package(
    complete: Work, change: Any
) -> None:
    shared(complete, SECOND)
    complete.seal(TECHNICIAN, "performed")
    assert [p.id for p in complete.gate().seals.missing] == [SECOND.id]
    change(complete)
    assert TECHNICIAN.id in {p.id for p in complete.gate().seals.missing}
    view = package.package_view(
        complete.session, person_id=LEAD.id, round_id=complete.round_id
    )
    assert view is not None and not view.stands
    complete.turn_over()
    attempts = {attempt for attempt, _, _ in files(complete)}
    assert attempts == {1, 2}  # what was signed before is kept


def test_a_round_that_changes_while_the_file_is_made_is_not_signed(
    complete: Work,
) -> None:
    prepared = prepare(complete, TECHNICIAN, "performed")
    complete.give_back("bus", CR)
    complete.sign(("bus", CR))
    with pytest.raises(ConflictError, match="changed while the package was being made"):
        store(complete, prepared)
    assert files(complete) == []


def test_two_who_sign_at_once_sign_one_after_the_other(complete: Work) -> None:
    shared(complete, SECOND)
    first, second = (prepare(complete, p, "performed") for p in (TECHNICIAN, SECOND))
    store(complete, first)
    with pytest.raises(ConflictError):
        store(complete, second)
    third = prepare(complete, SECOND, "performed")
    assert third.pdf == b"file"  # on top of the other's signature
    store(complete, third)
    assert files(complete) == [(1, 1, "performed_2"), (1, 2, "performed_1")]


def test_two_leads_who_approve_at_once_approve_once(complete: Work) -> None:
    complete.seal(TECHNICIAN, "performed")
    first, second = (prepare(complete, p, "approved") for p in (LEAD, OTHER_LEAD))
    store(complete, first)
    with pytest.raises(ConflictError):
        store(complete, second)
    assert [field for _, _, field in files(complete)] == ["performed_1", "approved"]


def test_a_prepared_signature_is_stored_once(complete: Work) -> None:
    prepared = prepare(complete, TECHNICIAN, "performed")
    store(complete, prepared)
    with pytest.raises(ConflictError):
        store(complete, prepared)


def test_a_waived_signature_is_not_asked_for(complete: Work) -> None:
    complete.waive(TECHNICIAN)
    prepared = prepare(complete, LEAD, "approved")
    assert [seal["field"] for seal in prepared.document["seals"]] == ["approved"]
    assert prepared.document["waived"][0]["person"] == TECHNICIAN.name
    store(complete, prepared)
    assert files(complete) == [(1, 1, "approved")]


def test_approval_closes_the_round(complete: Work) -> None:
    complete.turn_over(accept=False)
    card = complete.card("bus", IR)
    (answer,) = complete.send(complete.entry(card, "note", text="late"))
    assert answer["status"] == "conflict"
    with pytest.raises(ConflictError):
        prepare(complete, TECHNICIAN, "performed")
    with pytest.raises(ConflictError, match="approved already"):
        prepare(complete, LEAD, "approved")


def test_acceptance_needs_an_approval_and_happens_once(complete: Work) -> None:
    with pytest.raises(NotFoundError):
        complete.accept()  # an owner does not see an open round at all
    complete.turn_over(accept=False)
    complete.accept()
    with pytest.raises(ConflictError, match="is accepted: only an approved package"):
        complete.accept()


def test_the_file_is_fetched_by_those_who_may(complete: Work) -> None:
    def fetch(by: Cast) -> tuple[str, bytes]:
        return package.package_pdf(
            complete.session, person_id=by.id, round_id=complete.round_id
        )

    with pytest.raises(NotFoundError):
        fetch(LEAD)
    assert (
        package.package_view(
            complete.session, person_id=LEAD.id, round_id=complete.round_id
        )
        is None
    )
    complete.seal(TECHNICIAN, "performed")
    name, pdf = fetch(LEAD)
    assert name == "marram-pumping-station-mv-1-acceptance-round-1-rev-0.pdf"
    assert pdf == f"performed by {TECHNICIAN.name}".encode()
    with pytest.raises(NotFoundError):
        fetch(OWNER)
    last = complete.turn_over()
    assert fetch(OWNER)[1] == last
    assert package.package_of_round(complete.session, round_id=complete.round_id) == (
        name,
        last,
    )
    with pytest.raises(NotFoundError):
        package.package_of_round(complete.session, round_id=uuid4())


def test_a_draft_until_the_round_is_turned_over(complete: Work) -> None:
    def draft() -> dict[str, Any]:
        return package.draft_document(
            work.session, person_id=LEAD.id, round_id=work.round_id, now=work.at
        )

    work = complete
    assert draft()["conformity"]["word"] == "conforms"
    work.give_back("bus", CR)
    assert draft()["conformity"]["word"] == "not_complete"
    work.sign(("bus", CR))
    work.turn_over(accept=False)
    with pytest.raises(ConflictError):
        draft()


def test_what_was_prepared_for_one_round_is_not_stored_on_another(
    complete: Work,
) -> None:
    prepared = prepare(complete, TECHNICIAN, "performed")
    forged = replace(prepared, meaning="approved", field="approved")
    store(complete, prepared)
    with pytest.raises(ConflictError):
        store(complete, forged)
    assert complete.session.get_one(Round, complete.round_id).state == "open"
