"""Personal keys: issued once, opened by their person's password alone."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import cast

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from models.signing.authority import Authority, key_usage, pem, private_der
from models.signing.wrapping import unwrap, wrap

# As long as the record is compared: plain PDF readers call a signature untrusted
# once its certificate is past, and the switchgear stays for thirty years.
LIFE = timedelta(days=365 * 40)


@dataclass(frozen=True, slots=True)
class IssuedKey:
    """A person's certificate, and the private key as it is stored."""

    certificate_pem: str
    wrapped: str


def issue_key(
    authority: Authority,
    *,
    person_id: str,
    name: str,
    organisation: str,
    password: str,
    now: datetime,
) -> IssuedKey:
    """Make a key for a person, certified by the authority."""
    key = ec.generate_private_key(ec.SECP256R1())
    root = x509.load_pem_x509_certificate(authority.certificate_pem.encode())
    root_key = cast(
        ec.EllipticCurvePrivateKey,
        serialization.load_der_private_key(authority.private_der, None),
    )
    subject = x509.Name(
        [
            x509.NameAttribute(NameOID.COMMON_NAME, name),
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, organisation),
            x509.NameAttribute(NameOID.USER_ID, person_id),
        ]
    )
    public = key.public_key()
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(root.subject)
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + LIFE)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(key_usage(signing=True), critical=True)
        .add_extension(
            x509.SubjectKeyIdentifier.from_public_key(public), critical=False
        )
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(root_key.public_key()),
            critical=False,
        )
        .sign(root_key, hashes.SHA256())
    )
    return IssuedKey(pem(certificate), wrap(private_der(key), password, person_id))


def open_key(wrapped: str, password: str, person_id: str) -> ec.EllipticCurvePrivateKey:
    """Return the private key; WrongPasswordError when the password is not theirs."""
    der = unwrap(wrapped, password, person_id)
    return cast(
        ec.EllipticCurvePrivateKey, serialization.load_der_private_key(der, None)
    )


def rewrap_key(wrapped: str, old: str, new: str, person_id: str) -> str:
    """Return the same key under a new password; WrongPasswordError as above."""
    return wrap(unwrap(wrapped, old, person_id), new, person_id)
