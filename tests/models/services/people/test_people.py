"""Organisations, persons, their keys; enrolling, signing in, changing a password."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from cryptography import x509
from cryptography.x509.oid import NameOID
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import InputError, NotFoundError, WrongPasswordError
from models.schema import (
    Organisation,
    Person,
    SiteAssignment,
)
from models.services.people import people
from models.services.people.assignments import assign
from models.services.people.change_password import change_password
from models.services.people.enrol import enrol_person
from models.services.people.passwords import hash_password, password_fits
from models.services.people.sign_in import (
    SignInRefusedError,
    check_sign_in,
)
from models.signing import keys
from tests.scenario import (
    BEGAN,
    OWNER_FIRM,
    PASSWORD,
    SECRET,
    SITE,
    TECHNICIAN,
    TEST_FIRM,
    fixed_id,
)

NEWCOMER: dict[str, Any] = {
    "organisation_id": fixed_id(TEST_FIRM),
    "name": "Una Sanderling",
    "sign_in": "sanderling",
    "roles": ("technician",),
    "password": "twelve letters",
    "secret": SECRET,
    "now": BEGAN,
}


def add(session: Session, **changes: Any) -> Person:
    return people.add_person(
        session, person_id=uuid4(), key_id=uuid4(), **NEWCOMER | changes
    )


# What is given instead -> the field that is found wrong.
REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "a name that is taken": ({"sign_in": TECHNICIAN.sign_in}, "sign_in"),
    "a name taken but for capitals": ({"sign_in": " Tern "}, "sign_in"),
    "a name taken in letters of full width": (
        {"sign_in": "\uff54\uff45\uff52\uff4e"},
        "sign_in",
    ),
    "a name taken but for a character that shows nothing": (
        {"sign_in": "te\u200brn"},
        "sign_in",
    ),
    "a name with a letter that looks like another": (
        {"sign_in": "t\u0435rn"},  # Cyrillic
        "sign_in",
    ),
    "a name that turns what follows around": (
        {"name": "Wren \u202enreT"},
        "name",
    ),
    "a name of two lines": ({"name": "Wren\nTern"}, "name"),
    "no sign-in name": ({"sign_in": "  "}, "sign_in"),
    "a sign-in name too long": ({"sign_in": "k" * 65}, "sign_in"),
    "a sign-in name with a zero byte": ({"sign_in": "kn\x00t"}, "sign_in"),
    "a role that is none": ({"roles": ("admin",)}, "roles"),
    "a short password": ({"password": "nineteen ab"}, "password"),
    "no name": ({"name": " "}, "name"),
    "a name longer than a certificate holds": ({"name": "x" * 65}, "name"),
    "a name with a zero byte": ({"name": "Bea\x00"}, "name"),
    "an owner of a test firm": ({"roles": ("owner",)}, "roles"),
    "a technician of an owner": (
        {"organisation_id": fixed_id(OWNER_FIRM)},
        "roles",
    ),
    "an owner who is a technician too": ({"roles": ("technician", "owner")}, "roles"),
    "no role": ({"roles": ()}, "roles"),
}


@pytest.mark.any_database
def test_who_is_not_added_and_why(place: Session) -> None:
    before = place.scalars(select(func.count()).select_from(Person)).one()
    got = {}
    for case, (changes, _) in REFUSED.items():
        with pytest.raises(InputError) as refused:
            add(place, **changes)
        got[case] = " ".join(f.field for f in refused.value.faults)
    assert got == {case: field for case, (_, field) in REFUSED.items()}
    assert place.scalars(select(func.count()).select_from(Person)).one() == before


def test_things_that_are_not_there(place: Session) -> None:
    with pytest.raises(NotFoundError):
        add(place, organisation_id=uuid4())
    with pytest.raises(NotFoundError):
        assign(place, person_id=uuid4(), site_id=fixed_id(SITE), now=BEGAN)
    with pytest.raises(NotFoundError):
        assign(place, person_id=TECHNICIAN.id, site_id=uuid4(), now=BEGAN)


def test_assigned_twice_is_assigned_once(place: Session) -> None:
    for _ in range(2):
        assign(place, person_id=TECHNICIAN.id, site_id=fixed_id(SITE), now=BEGAN)
    rows = select(SiteAssignment).where(SiteAssignment.person_id == TECHNICIAN.id)
    assert len(place.scalars(rows).all()) == 1


def test_an_organisation_needs_a_name_that_fits_and_is_its_own(place: Session) -> None:
    for name in ("", "x" * 65, "zero \x00", TEST_FIRM):
        with pytest.raises(InputError) as refused:
            people.add_organisation(
                place,
                organisation_id=uuid4(),
                kind="test_firm",
                name=name,
                address="Quay",
            )
        assert [f.field for f in refused.value.faults] == ["name"], name
    with pytest.raises(InputError) as refused:
        people.add_organisation(
            place, organisation_id=uuid4(), kind="bank", name="Till", address=""
        )
    assert [f.field for f in refused.value.faults] == ["kind"]


def test_a_newcomer_has_a_key_of_their_own(place: Session) -> None:
    person = add(place, name="Ås Ørn Þór", sign_in=" SANDERLING ")
    assert person.sign_in == "sanderling"
    certificate = x509.load_pem_x509_certificate(person.key.certificate_pem.encode())
    subject = {a.oid: a.value for a in certificate.subject}
    assert subject == {
        NameOID.COMMON_NAME: "Ås Ørn Þór",
        NameOID.ORGANIZATION_NAME: TEST_FIRM,
        NameOID.USER_ID: str(person.id),
    }
    keys.open_key(person.key.wrapped_key, "twelve letters", str(person.id))
    view = people.person_view(place, person_id=person.id)
    assert view.key_fingerprint.count(":") == 31
    assert view.key_fingerprint != view.root_fingerprint


@pytest.mark.any_database
def test_a_wrong_installation_secret_issues_no_key(place: Session) -> None:
    with pytest.raises(WrongPasswordError):
        add(place, secret="another installation's")


def test_the_authority_is_made_once(place: Session) -> None:
    first = people.ensure_authority(
        place, secret=SECRET, authority_id=uuid4(), now=BEGAN
    )
    assert first.id == fixed_id("authority")


# Enrolling from the command line


def enrol(session: Session, **changes: Any) -> UUID:
    given: dict[str, Any] = {
        "sign_in": "sanderling",
        "name": "Una Sanderling",
        "roles": ("technician",),
        "organisation": TEST_FIRM,
        "address": "",
        "site_names": [SITE],
        "password": "twelve letters",
        "secret": SECRET,
        "now": BEGAN,
        "new_id": uuid4,
    }
    return enrol_person(session, **given | changes)


def test_enrolling_makes_what_is_not_there(session: Session) -> None:
    """On an empty database: authority, organisation and person at once."""
    person_id = enrol(session, site_names=[], organisation="Bollard Testing")
    person = session.get_one(Person, person_id)
    assert (person.organisation.name, person.organisation.kind) == (
        "Bollard Testing",
        "test_firm",
    )
    other = enrol(
        session,
        site_names=[],
        organisation="Groyne Water",
        roles=("owner",),
        sign_in="dunlin",
    )
    assert session.get_one(Person, other).organisation.kind == "owner"


def test_enrolling_uses_what_is_there(place: Session) -> None:
    person_id = enrol(place)
    rows = select(SiteAssignment.site_id).where(SiteAssignment.person_id == person_id)
    assert place.scalars(rows).all() == [fixed_id(SITE)]
    firms = select(func.count()).where(Organisation.name == TEST_FIRM)
    assert place.scalars(firms).one() == 1


def test_enrolling_names_every_site_that_is_not_there(place: Session) -> None:
    with pytest.raises(InputError) as refused:
        enrol(place, site_names=["Nowhere", SITE, "Elsewhere"])
    assert [f.message for f in refused.value.faults] == [
        "There is no site 'Nowhere'.",
        "There is no site 'Elsewhere'.",
    ]


def test_enrolling_into_an_organisation_of_the_other_kind(place: Session) -> None:
    with pytest.raises(InputError):
        enrol(place, organisation=OWNER_FIRM)
    with pytest.raises(InputError):
        enrol(place, roles=("owner",), organisation=TEST_FIRM)


# Signing in


def sign_in(
    session: Session, name: str = "tern", password: str = PASSWORD
) -> people.PersonView:
    return check_sign_in(session, sign_in=name, password=password)


def test_name_and_password_belong_together(place: Session) -> None:
    for name in ("tern", "TERN", "  Tern "):
        assert sign_in(place, name).id == TECHNICIAN.id
    wrong = {
        "another's name": ("plovr", PASSWORD),
        "nobody": ("", PASSWORD),
        "a zero byte": ("tern\x00", PASSWORD),
        "half a surrogate": ("tern\ud800", PASSWORD),
        "another password": ("tern", "stripe-of-pain"),
        "an empty password": ("tern", ""),
        "a password with half a surrogate": ("tern", "\udfff"),
        "a password without end": ("tern", "x" * 100_000),
    }
    for name, password in wrong.values():
        with pytest.raises(SignInRefusedError, match="do not belong together"):
            sign_in(place, name, password)


def test_one_name_however_a_keyboard_writes_it(place: Session) -> None:
    add(place, sign_in="M\u00fcwe")
    for name in ("m\u00fcwe", "mu\u0308we", "\uff2d\u00fcwe"):
        view = sign_in(place, name, NEWCOMER["password"])
        assert view.sign_in == "m\u00fcwe", name
    place.get_one(Person, TECHNICIAN.id).sign_in = "\ufb01nch"  # of before
    assert sign_in(place, "\ufb01nch").id == TECHNICIAN.id


def test_who_is_no_longer_active_does_not_sign_in(place: Session) -> None:
    place.get_one(Person, TECHNICIAN.id).active = False
    with pytest.raises(SignInRefusedError, match="do not belong together"):
        sign_in(place)


@pytest.mark.property
@settings(max_examples=8, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.text(st.characters(codec=None)), password=st.text())
def test_any_name_and_password_are_answered(
    place: Session, name: str, password: str
) -> None:
    with pytest.raises(SignInRefusedError):
        sign_in(place, name, password)


# Changing a password


def test_a_new_password_opens_the_same_key(place: Session) -> None:
    person = place.get_one(Person, TECHNICIAN.id)
    before = keys.open_key(person.key.wrapped_key, PASSWORD, str(person.id))
    change_password(
        place, person_id=person.id, old=PASSWORD, new="another stripe", now=BEGAN
    )
    after = keys.open_key(person.key.wrapped_key, "another stripe", str(person.id))
    assert after.private_numbers() == before.private_numbers()
    with pytest.raises(WrongPasswordError):
        keys.open_key(person.key.wrapped_key, PASSWORD, str(person.id))
    with pytest.raises(SignInRefusedError):
        sign_in(place)
    assert sign_in(place, password="another stripe").session_epoch == 1


def test_a_password_is_not_changed_by_halves(place: Session) -> None:
    person = place.get_one(Person, TECHNICIAN.id)
    wrapped, hashed = person.key.wrapped_key, person.password_hash
    for old, new, field in (
        ("not the old one", "another stripe", "old"),
        (PASSWORD, "short", "new"),
    ):
        with pytest.raises(InputError) as refused:
            change_password(place, person_id=person.id, old=old, new=new, now=BEGAN)
        assert [f.field for f in refused.value.faults] == [field]
    assert (person.key.wrapped_key, person.password_hash) == (wrapped, hashed)
    assert person.session_epoch == 0
    assert sign_in(place).id == person.id


HASHES = {"none": "", "not a hash": "secret", "another scheme": "$2b$12$abc"}


def test_what_is_no_hash_fits_no_password() -> None:
    for hashed in HASHES.values():
        assert not password_fits(hashed, PASSWORD)
    hashed = hash_password("пароль и ещё")
    assert password_fits(hashed, "пароль и ещё")
    assert not password_fits(hashed, "пароль и еще")
