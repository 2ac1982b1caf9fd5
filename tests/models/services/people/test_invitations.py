"""Invite, enrol, reset: nobody but the person ever has password and key."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from cryptography import x509
from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
    WrongPasswordError,
)
from models.schema import Invitation, Person, Signature
from models.services.keeping.check_record import check_record
from models.services.people import change_person, enrolment, invitations
from models.services.people.assignments import assign
from models.services.people.people import person_view
from models.services.people.sign_in import SignInRefusedError, check_sign_in
from models.services.turnover import package
from models.signing import keys, seals
from models.signing.verification import verify_package
from tests.cases import first_on_both
from tests.scenario import (
    ADMINISTRATOR,
    BEGAN,
    CR,
    IR,
    LEAD,
    OWNER,
    OWNER_FIRM,
    PASSWORD,
    SECRET,
    SITE,
    TECHNICIAN,
    TEST_FIRM,
    Cast,
    Work,
    fixed_id,
)
from webapp.package_files import make_signed

TOKEN = "t" * 43
NEW = "three terns on the mole"
LATER = timedelta(hours=1)
NOBODY = UUID(int=7)


def invite(session: Session, by: Cast = ADMINISTRATOR, **changes: Any) -> UUID:
    given: dict[str, Any] = {
        "person_id": uuid4(),
        "organisation_id": fixed_id(TEST_FIRM),
        "name": "Una Sanderling",
        "sign_in": "Sanderling",
        "roles": ("technician",),
        "token": TOKEN,
        "now": BEGAN,
    }
    return invitations.invite(session, by_id=by.id, **given | changes).person_id


def enrol(session: Session, after: timedelta = LATER, **changes: Any) -> UUID:
    given: dict[str, Any] = {
        "token": TOKEN,
        "password": NEW,
        "secret": SECRET,
        "key_id": uuid4(),
        "now": BEGAN + after,
    }
    return enrolment.enrol(session, **given | changes)


def test_an_invited_person_enrols(place: Session) -> None:
    person_id = invite(place)
    seen = enrolment.enrolment_of(place, token=TOKEN, now=BEGAN + LATER)
    assert (seen.kind, seen.name, seen.sign_in, seen.role_words) == (
        "enrol",
        "Una Sanderling",
        "sanderling",
        "technician",
    )
    assert (seen.made_by, seen.firm) == (ADMINISTRATOR.name, TEST_FIRM)
    person = place.get_one(Person, person_id)
    assert (person.password_hash, person.keys) == (None, [])
    with pytest.raises(ConflictError, match="has not enrolled"):
        _ = person.key
    with pytest.raises(NotFoundError):
        person_view(place, person_id=person_id)
    for password in (NEW, ""):  # the words of any wrong pair
        with pytest.raises(SignInRefusedError, match="do not belong together"):
            check_sign_in(place, sign_in="sanderling", password=password)
    assert enrol(place) == person_id
    view = check_sign_in(place, sign_in="SANDERLING", password=NEW)
    assert view.id == person_id
    certificate = x509.load_pem_x509_certificate(person.key.certificate_pem.encode())
    assert str(person_id) in certificate.subject.rfc4514_string()
    keys.open_key(person.key.wrapped_key, NEW, str(person_id))
    assert check_record(place).faults == []


def test_the_token_is_not_stored(place: Session) -> None:
    invite(place)
    (row,) = place.query(Invitation).all()
    assert TOKEN not in repr(vars(row))
    with pytest.raises(InputError):
        invite(place, sign_in="other", token="too short for a link")


# state -> what brings it about, after which the link is opened
def _nothing(_session: Session, _person: UUID) -> None: ...


def _use(session: Session, _person: UUID) -> None:
    enrol(session)


def _withdraw(session: Session, person: UUID) -> None:
    (row,) = session.query(Invitation).filter_by(person_id=person)
    invitations.withdraw_invitation(
        session, by_id=ADMINISTRATOR.id, invitation_id=row.id, now=BEGAN + LATER
    )


def _make_newer(session: Session, person: UUID) -> None:
    invitations.make_link(
        session,
        by_id=ADMINISTRATOR.id,
        person_id=person,
        token="n" * 43,
        now=BEGAN + LATER,
    )


def _deactivate(session: Session, person: UUID) -> None:
    session.get_one(Person, person).active = False


HOURS = timedelta(hours=1)
STATES: dict[str, tuple[Any, timedelta, str, str]] = {
    "unknown": (_nothing, LATER, "u" * 43, "unknown"),
    "empty": (_nothing, LATER, "", "unknown"),
    "half a surrogate": (_nothing, LATER, "\ud800", "unknown"),
    "used": (_use, 2 * HOURS, TOKEN, "used"),
    "withdrawn": (_withdraw, 2 * HOURS, TOKEN, "withdrawn"),
    "a newer one made": (_make_newer, 2 * HOURS, TOKEN, "withdrawn"),
    "expired": (_nothing, 72 * HOURS, TOKEN, "expired"),
    "deactivated": (_deactivate, LATER, TOKEN, "deactivated"),
}


@pytest.mark.parametrize(("before", "after", "token", "state"), first_on_both(STATES))
def test_a_link_that_cannot_be_used_says_why(
    place: Session, before: Any, after: timedelta, token: str, state: str
) -> None:
    person_id = invite(place)
    before(place, person_id)
    hashed = place.get_one(Person, person_id).password_hash
    with pytest.raises(enrolment.InvitationError) as refused:
        enrol(place, after, token=token, password="another of twelve")
    assert refused.value.state == state
    assert str(refused.value) == enrolment.WHY_NOT[state]
    assert place.get_one(Person, person_id).password_hash == hashed


def test_messages_differ_and_say_what_to_do() -> None:
    assert len(set(enrolment.WHY_NOT.values())) == len(enrolment.WHY_NOT) == 5
    for words in enrolment.WHY_NOT.values():
        assert any(verb in words for verb in ("Ask", "ask for", "reactivates"))


def test_a_poor_password_leaves_the_link_good(place: Session) -> None:
    invite(place)
    for password in ("too short", "una sanderling"):
        with pytest.raises(InputError):
            enrol(place, password=password)
    enrol(place, timedelta(hours=71, minutes=59))


def test_a_wrong_installation_secret_gives_no_key(place: Session) -> None:
    person_id = invite(place)
    with pytest.raises(WrongPasswordError):
        enrol(place, secret="another installation's")
    assert place.get_one(Person, person_id).keys == []


REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "a sign-in name that is taken": ({"sign_in": "tern"}, "sign_in"),
    "taken but for capitals": ({"sign_in": " TERN "}, "sign_in"),
    "no role": ({"roles": ()}, "roles"),
    "an owner of a test firm": ({"roles": ("owner",)}, "roles"),
    "a lead of an owner": (
        {"organisation_id": fixed_id(OWNER_FIRM), "roles": ("lead",)},
        "roles",
    ),
    "no name": ({"name": " "}, "name"),
}


def test_who_is_not_invited_and_why(place: Session) -> None:
    count = place.query(Person).count()
    got = {}
    for case, (changes, _) in REFUSED.items():
        with pytest.raises(InputError) as refused:
            invite(place, **changes)
        got[case] = " ".join(f.field for f in refused.value.faults)
    assert got == {case: field for case, (_, field) in REFUSED.items()}
    for by in (LEAD, TECHNICIAN, OWNER):
        with pytest.raises(ForbiddenError):
            invite(place, by)
    assert place.query(Person).count() == count


def reset(work: Work, who: Cast, password: str = NEW) -> None:
    """Have an administrator make a link, and *who* use it."""
    token = f"{who.sign_in:t<43}"
    invitations.make_link(
        work.session,
        by_id=ADMINISTRATOR.id,
        person_id=who.id,
        token=token,
        now=work.tick(),
    )
    enrolment.enrol(
        work.session,
        token=token,
        password=password,
        secret=SECRET,
        key_id=uuid4(),
        now=work.tick(),
    )


def test_a_reset_revokes_the_key_and_keeps_what_was_signed(confirmed: Work) -> None:
    work, session = confirmed, confirmed.session
    work.fill("breaker 52", CR)
    person = session.get_one(Person, TECHNICIAN.id)
    first, epoch = person.key, person.session_epoch
    before = work.gate().seals.content["people"]
    reset(work, TECHNICIAN)
    assert person.key is not first and first.revoked_at is not None
    assert person.session_epoch == epoch + 1
    with pytest.raises(SignInRefusedError):
        check_sign_in(session, sign_in="tern", password=PASSWORD)
    assert check_record(session).faults == []
    assert work.gate().seals.content["people"] == before  # and its signatures count
    work.fill("bus", IR, sign=False)
    with pytest.raises(InputError):  # the old password opens nothing any more
        work.sign(("bus", IR))
    assert check_record(session).faults == []


def test_what_the_revoked_key_signs_afterwards_is_found(confirmed: Work) -> None:
    """Somebody who has the database, the old key and its password."""
    work, session = confirmed, confirmed.session
    person = session.get_one(Person, TECHNICIAN.id)
    first = person.key
    reset(work, TECHNICIAN)
    second = person.key
    at = first.revoked_at
    for now, then in ((second, first), (first, second)):  # one key at a time is in use
        now.revoked_at = at
        session.flush()
        then.revoked_at = None
        session.flush()
        if then is first:
            work.fill("breaker 52", CR)
    faults = check_record(session).faults
    (signature,) = session.query(Signature).all()
    assert (
        f"signature {signature.id} was made with a key that was revoked before"
        in faults
    )


def test_a_revocation_that_is_taken_back_is_found(confirmed: Work) -> None:
    reset(confirmed, TECHNICIAN)
    person = confirmed.session.get_one(Person, TECHNICIAN.id)
    confirmed.session.delete(person.keys[1])
    confirmed.session.flush()
    person.keys[0].revoked_at = None
    confirmed.session.flush()
    faults = " ".join(check_record(confirmed.session).faults)
    assert "revocation of" in faults and "key of" in faults


def test_a_package_verifies_with_the_key_from_before_a_reset(complete: Work) -> None:
    """Each on their own: what the file carries is all that a check needs."""
    work, session = complete, complete.session
    work.seal(TECHNICIAN, "performed", make_signed)
    reset(work, TECHNICIAN)
    reset(work, LEAD)
    now = work.tick()
    prepared = package.prepare(
        session,
        person_id=LEAD.id,
        round_id=work.round_id,
        meaning="approved",
        password=NEW,
        now=now,
    )
    pdf = make_signed(prepared, now)
    package.store_signed(
        session, prepared=prepared, round_id=work.round_id, pdf=pdf, now=now
    )
    found = verify_package(pdf, prepared.root_pem)
    assert found.faults == []
    old, _ = session.get_one(Person, TECHNICIAN.id).keys
    assert found.seals[0].key == seals.fingerprint(old.certificate_pem)
    assert check_record(session).faults == []
    view = package.package_view(session, person_id=LEAD.id, round_id=work.round_id)
    assert view is not None and view.approved


def test_a_reset_while_a_package_is_made_stores_nothing(complete: Work) -> None:
    work, session = complete, complete.session
    prepared = package.prepare(
        session,
        person_id=TECHNICIAN.id,
        round_id=work.round_id,
        meaning="performed",
        password=PASSWORD,
        now=work.tick(),
    )
    reset(work, TECHNICIAN)
    with pytest.raises(ConflictError, match="given a new key"):
        package.store_signed(
            session,
            prepared=prepared,
            round_id=work.round_id,
            pdf=b"pages",
            now=work.tick(),
        )


def test_links_are_for_administrators_to_make(place: Session) -> None:
    given: dict[str, Any] = {"token": TOKEN, "now": BEGAN}
    with pytest.raises(ForbiddenError):
        invitations.make_link(place, by_id=LEAD.id, person_id=TECHNICIAN.id, **given)
    with pytest.raises(NotFoundError):
        invitations.make_link(place, by_id=ADMINISTRATOR.id, person_id=NOBODY, **given)
    change_person.deactivate(
        place,
        by_id=ADMINISTRATOR.id,
        person_id=TECHNICIAN.id,
        reason="left",
        seen_version=1,
        now=BEGAN,
    )
    with pytest.raises(ConflictError, match="reactivate them first"):
        invitations.make_link(
            place, by_id=ADMINISTRATOR.id, person_id=TECHNICIAN.id, **given
        )
    with pytest.raises(NotFoundError):
        invitations.withdraw_invitation(
            place, by_id=ADMINISTRATOR.id, invitation_id=NOBODY, now=BEGAN
        )
    assign(place, person_id=LEAD.id, site_id=fixed_id(SITE), now=BEGAN)
