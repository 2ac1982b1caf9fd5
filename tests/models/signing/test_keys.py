"""Personal keys and the authority: who opens what, and what certificates say."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtensionOID, NameOID
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import WrongPasswordError
from models.signing import authority, keys, wrapping

NOW = datetime(2026, 3, 2, 21, 0, tzinfo=UTC)
SECRET, PASSWORD = "the installation's secret", "stripe-of-paint"
PERSON, OTHER = "person-1", "person-2"

ROOT = authority.create_authority("Witnessmark local authority", NOW)


def issue(password: str = PASSWORD, person_id: str = PERSON) -> keys.IssuedKey:
    return keys.issue_key(
        ROOT,
        person_id=person_id,
        name="Wren Tern",
        organisation="Fathom Line Testing",
        password=password,
        now=NOW,
    )


def loaded(pem: str) -> x509.Certificate:
    return x509.load_pem_x509_certificate(pem.encode())


def test_a_key_opens_with_its_password_for_its_person() -> None:
    issued = issue()
    key = keys.open_key(issued.wrapped, PASSWORD, PERSON)
    certified = loaded(issued.certificate_pem).public_key()
    assert key.public_key() == certified


WRONG: dict[str, tuple[str, str]] = {
    "another password": ("stripe of paint", PERSON),
    "an empty password": ("", PERSON),
    "a blank more": (PASSWORD + " ", PERSON),
    "other capitals": (PASSWORD.upper(), PERSON),
    "the password and half a surrogate": (PASSWORD + "\ud800", PERSON),
    "another person": (PASSWORD, OTHER),
    "nobody": (PASSWORD, ""),
}


@pytest.mark.parametrize(("password", "person"), WRONG.values(), ids=WRONG)
def test_a_key_opens_for_nobody_else(password: str, person: str) -> None:
    with pytest.raises(WrongPasswordError):
        keys.open_key(issue().wrapped, password, person)


def test_one_persons_wrapping_is_not_anothers() -> None:
    """Both have the same password; moved rows still open for neither."""
    mine, theirs = issue(), issue(person_id=OTHER)
    assert keys.open_key(theirs.wrapped, PASSWORD, OTHER)
    with pytest.raises(WrongPasswordError):
        keys.open_key(theirs.wrapped, PASSWORD, PERSON)
    with pytest.raises(WrongPasswordError):
        authority.open_authority(mine.wrapped, ROOT.certificate_pem, PASSWORD)


# What is changed in the wrapping; each part is authenticated or derived from.
PARTS = ("salt", "nonce", "sealed")


@pytest.mark.parametrize("part", PARTS)
def test_a_changed_wrapping_does_not_open(part: str) -> None:
    whole = json.loads(issue().wrapped)
    other = json.loads(issue().wrapped)
    changed = json.dumps(whole | {part: other[part]})
    with pytest.raises(WrongPasswordError):
        keys.open_key(changed, PASSWORD, PERSON)


def test_nothing_of_the_key_or_the_password_is_stored_in_the_open() -> None:
    issued = issue()
    key = keys.open_key(issued.wrapped, PASSWORD, PERSON)
    der = authority.private_der(key)
    assert PASSWORD not in issued.wrapped
    assert der.hex() not in issued.wrapped
    assert set(json.loads(issued.wrapped)) == {
        *("v", "kdf", "memory_kib", "passes", "lanes"),
        *PARTS,
    }


def test_the_same_password_wraps_differently_every_time() -> None:
    first, second = (json.loads(wrapping.wrap(b"k", "p", "x")) for _ in range(2))
    assert all(first[part] != second[part] for part in PARTS)


def test_a_new_password_opens_the_same_key_and_the_old_one_none() -> None:
    issued = issue()
    wrapped = keys.rewrap_key(issued.wrapped, PASSWORD, "a new sentence", PERSON)
    before = keys.open_key(issued.wrapped, PASSWORD, PERSON).private_numbers()
    after = keys.open_key(wrapped, "a new sentence", PERSON).private_numbers()
    assert before == after
    with pytest.raises(WrongPasswordError):
        keys.open_key(wrapped, PASSWORD, PERSON)
    with pytest.raises(WrongPasswordError):
        keys.rewrap_key(issued.wrapped, "not it", "a new sentence", PERSON)


def test_the_cost_travels_with_the_wrapping(monkeypatch: pytest.MonkeyPatch) -> None:
    """A key wrapped at yesterday's cost opens after the cost was raised."""
    issued = issue()
    monkeypatch.setattr(wrapping, "MEMORY_KIB", 64)
    monkeypatch.setattr(wrapping, "PASSES", 2)
    assert keys.open_key(issued.wrapped, PASSWORD, PERSON)
    dearer = keys.rewrap_key(issued.wrapped, PASSWORD, PASSWORD, PERSON)
    assert json.loads(dearer)["memory_kib"] == 64
    assert keys.open_key(dearer, PASSWORD, PERSON)


def test_the_authority_opens_with_the_installations_secret_only() -> None:
    wrapped = authority.wrap_authority(ROOT, SECRET)
    opened = authority.open_authority(wrapped, ROOT.certificate_pem, SECRET)
    assert opened == ROOT
    with pytest.raises(WrongPasswordError):
        authority.open_authority(wrapped, ROOT.certificate_pem, SECRET + "x")
    with pytest.raises(WrongPasswordError):
        keys.open_key(wrapped, SECRET, PERSON)


# Certificates


def usage(certificate: x509.Certificate) -> set[str]:
    found = certificate.extensions.get_extension_for_class(x509.KeyUsage)
    assert found.critical
    return {
        name
        for name in (
            *("digital_signature", "content_commitment", "key_encipherment"),
            *("data_encipherment", "key_agreement", "key_cert_sign", "crl_sign"),
        )
        if getattr(found.value, name)
    }


def test_a_persons_certificate_says_who_they_are_and_signs_nothing_but_records() -> (
    None
):
    certificate = loaded(issue().certificate_pem)
    assert {a.oid: a.value for a in certificate.subject} == {
        NameOID.COMMON_NAME: "Wren Tern",
        NameOID.ORGANIZATION_NAME: "Fathom Line Testing",
        NameOID.USER_ID: PERSON,
    }
    root = loaded(ROOT.certificate_pem)
    certificate.verify_directly_issued_by(root)
    basic = certificate.extensions.get_extension_for_class(x509.BasicConstraints)
    assert (basic.critical, basic.value.ca) == (True, False)
    assert usage(certificate) == {"digital_signature", "content_commitment"}
    public = certificate.public_key()
    assert isinstance(public, ec.EllipticCurvePublicKey)
    assert public.curve.name == "secp256r1"


def test_the_roots_certificate_issues_leaves_only() -> None:
    root = loaded(ROOT.certificate_pem)
    root.verify_directly_issued_by(root)
    basic = root.extensions.get_extension_for_class(x509.BasicConstraints)
    assert basic.critical
    assert (basic.value.ca, basic.value.path_length) == (True, 0)
    assert usage(root) == {"key_cert_sign", "crl_sign"}


def test_certificates_find_their_issuer_by_key() -> None:
    """RFC 5280, 4.2.1.1: the leaf names the key of the root."""
    leaf, root = loaded(issue().certificate_pem), loaded(ROOT.certificate_pem)
    subject_key = root.extensions.get_extension_for_oid(
        ExtensionOID.SUBJECT_KEY_IDENTIFIER
    ).value
    issuer_key: Any = leaf.extensions.get_extension_for_oid(
        ExtensionOID.AUTHORITY_KEY_IDENTIFIER
    ).value
    assert issuer_key.key_identifier == subject_key.digest


def test_certificates_live_as_long_as_the_record_is_compared() -> None:
    """The gear stays for thirty years; the root outlives the leaves."""
    leaf, root = loaded(issue().certificate_pem), loaded(ROOT.certificate_pem)
    assert leaf.not_valid_before_utc <= NOW
    assert leaf.not_valid_after_utc - NOW > timedelta(days=365 * 30)
    assert root.not_valid_after_utc > leaf.not_valid_after_utc
    assert root.not_valid_before_utc <= leaf.not_valid_before_utc


def test_serial_numbers_differ() -> None:
    assert len({loaded(issue().certificate_pem).serial_number for _ in range(8)}) == 8


@pytest.mark.property
@settings(max_examples=40)
@given(
    password=st.text(st.characters(codec=None)),
    other=st.text(st.characters(codec=None)),
    secret=st.binary(max_size=60),
)
def test_only_the_same_text_unwraps(password: str, other: str, secret: bytes) -> None:
    wrapped = wrapping.wrap(secret, password, PERSON)
    assert wrapping.unwrap(wrapped, password, PERSON) == secret
    if other != password:
        with pytest.raises(WrongPasswordError):
            wrapping.unwrap(wrapped, other, PERSON)
