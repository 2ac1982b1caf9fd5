"""Seals over statements, checked by our reader and by OpenSSL's."""

import subprocess
from base64 import b64decode, b64encode
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec, rsa
from cryptography.hazmat.primitives.serialization import pkcs7
from cryptography.x509.oid import NameOID

from models.signing import authority, keys, seals
from models.signing.validity import CertificateTimeError

NOW = datetime(2026, 3, 2, 21, 0, tzinfo=UTC)
ROOT = authority.create_authority("Witnessmark local authority", NOW)
OTHER_ROOT = authority.create_authority("Witnessmark local authority", NOW)
STATEMENT = '{"card":"breaker 52","Ω":"µ"}'.encode()


def issue(root: authority.Authority = ROOT) -> tuple[ec.EllipticCurvePrivateKey, str]:
    issued = keys.issue_key(
        root,
        person_id="person-1",
        name="Wren Tern",
        organisation="Fathom Line Testing",
        password="stripe-of-paint",
        now=NOW,
    )
    key = keys.open_key(issued.wrapped, "stripe-of-paint", "person-1")
    return key, issued.certificate_pem


KEY, CERTIFICATE = issue()
SEAL = seals.seal(KEY, CERTIFICATE, STATEMENT, NOW)


def test_a_seal_names_its_signer() -> None:
    signer = seals.check_seal(SEAL, STATEMENT, ROOT.certificate_pem)
    name = signer.subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0]
    assert name.value == "Wren Tern"
    assert signer.public_key() == KEY.public_key()


def test_the_fingerprint_is_that_of_the_certificate(tmp_path: Path) -> None:
    path = tmp_path / "one.pem"
    path.write_text(CERTIFICATE)
    said = subprocess.run(
        ["openssl", "x509", "-in", str(path), "-noout", "-fingerprint", "-sha256"],
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    assert said.strip().split("=")[1] == seals.fingerprint(CERTIFICATE)


RAW = b64decode(SEAL)


def changed(at: int) -> str:
    """Return the seal with one bit of one byte turned over."""
    raw = bytearray(RAW)
    raw[at] ^= 1
    return b64encode(bytes(raw)).decode()


def of_other_key() -> str:
    """Return a seal whose certificate does not belong to its key."""
    other = ec.generate_private_key(ec.SECP256R1())
    signed = x509.load_pem_x509_certificate(CERTIFICATE.encode())
    made = (
        pkcs7.PKCS7SignatureBuilder()
        .set_data(STATEMENT)
        .add_signer(signed, other, hashes.SHA256())
        .sign(
            serialization.Encoding.DER,
            [pkcs7.PKCS7Options.DetachedSignature, pkcs7.PKCS7Options.Binary],
        )
    )
    return b64encode(made).decode()


def of_rsa_key() -> str:
    """Return a seal with a self-made certificate and a key of another kind."""
    key = rsa.generate_private_key(65537, 2048)
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Wren Tern")])
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(7)
        .not_valid_before(NOW)
        .not_valid_after(NOW.replace(year=2036))
        .sign(key, hashes.SHA256())
    )
    return seals.seal(key, authority.pem(certificate), STATEMENT, NOW)


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (NOW - timedelta(hours=2), "your certificate begins on 2 March 2026, 20:00"),
        (NOW + keys.LIFE + timedelta(seconds=1), "your certificate ended on"),
    ],
    ids=["before its first day", "after its last"],
)
def test_nothing_is_sealed_that_could_never_be_verified(
    at: datetime, words: str
) -> None:
    with pytest.raises(CertificateTimeError, match=words):
        seals.seal(KEY, CERTIFICATE, STATEMENT, at)
    for good in (NOW - timedelta(hours=1), NOW + keys.LIFE):
        seals.seal(KEY, CERTIFICATE, STATEMENT, good)


BROKEN: dict[str, tuple[str, bytes, str]] = {
    "another statement": (SEAL, STATEMENT + b" ", ROOT.certificate_pem),
    "nothing signed": (SEAL, b"", ROOT.certificate_pem),
    "another authority of the same name": (SEAL, STATEMENT, OTHER_ROOT.certificate_pem),
    "a key of another authority": (
        seals.seal(*issue(OTHER_ROOT), STATEMENT, NOW),
        STATEMENT,
        ROOT.certificate_pem,
    ),
    "a certificate of another key": (of_other_key(), STATEMENT, ROOT.certificate_pem),
    "a key of another kind": (of_rsa_key(), STATEMENT, ROOT.certificate_pem),
    "empty": ("", STATEMENT, ROOT.certificate_pem),
    "no base64": ("µ", STATEMENT, ROOT.certificate_pem),
    "base64 of nothing known": ("AAAA", STATEMENT, ROOT.certificate_pem),
    "cut in half": (SEAL[: len(SEAL) // 8 * 4], STATEMENT, ROOT.certificate_pem),
    "a plain certificate": (
        b64encode(CERTIFICATE.encode()).decode(),
        STATEMENT,
        ROOT.certificate_pem,
    ),
}


@pytest.mark.parametrize(("seal", "data", "root"), BROKEN.values(), ids=BROKEN)
def test_a_seal_that_does_not_hold(seal: str, data: bytes, root: str) -> None:
    with pytest.raises(seals.BrokenSealError) as refused:
        seals.check_seal(seal, data, root)
    assert [fault.field for fault in refused.value.faults] == ["seal"]


def test_one_bit_anywhere_is_found_or_touches_nothing_that_is_signed() -> None:
    """Most bits break it; the rest (algorithm notes) leave signer and words alone."""
    held = 0
    for at in range(len(RAW)):
        try:
            signer = seals.check_seal(changed(at), STATEMENT, ROOT.certificate_pem)
        except seals.BrokenSealError:
            continue
        held += 1
        assert signer.public_key() == KEY.public_key()
    assert held < len(RAW) / 4


def openssl_verify(folder: Path, seal: str, data: bytes, root: str) -> int:
    """Return OpenSSL's exit code over the seal."""
    for name, content in (
        ("seal.der", b64decode(seal)),
        ("data", data),
        ("root.pem", root.encode()),
    ):
        (folder / name).write_bytes(content)
    return subprocess.run(
        [
            *("openssl", "cms", "-verify", "-binary", "-inform", "DER"),
            *("-in", str(folder / "seal.der"), "-content", str(folder / "data")),
            *("-CAfile", str(folder / "root.pem"), "-purpose", "any"),
            *("-attime", str(int(NOW.timestamp())), "-out", str(folder / "out")),
        ],
        check=False,
        capture_output=True,
    ).returncode


def test_openssl_says_the_same(tmp_path: Path) -> None:
    root = ROOT.certificate_pem
    assert openssl_verify(tmp_path, SEAL, STATEMENT, root) == 0
    assert openssl_verify(tmp_path, SEAL, STATEMENT + b"x", root) != 0
    assert openssl_verify(tmp_path, SEAL, STATEMENT, OTHER_ROOT.certificate_pem) != 0
    assert openssl_verify(tmp_path, of_other_key(), STATEMENT, root) != 0
