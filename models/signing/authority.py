"""The installation's own certificate authority."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from models.signing.wrapping import unwrap, wrap

LIFE = timedelta(days=365 * 60)  # outlives the gear whose records it vouches for
_BOUND_TO = "authority"


@dataclass(frozen=True, slots=True)
class Authority:
    """The root certificate and its private key (PKCS#8, DER)."""

    certificate_pem: str
    private_der: bytes


def create_authority(name: str, now: datetime) -> Authority:
    """Return a new root: EC P-256, able to issue leaf certificates only."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    public = key.public_key()
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + LIFE)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(key_usage(signing=False), critical=True)
        .add_extension(
            x509.SubjectKeyIdentifier.from_public_key(public), critical=False
        )
        .sign(key, hashes.SHA256())
    )
    return Authority(pem(certificate), private_der(key))


def wrap_authority(authority: Authority, secret: str) -> str:
    """Return the private key as it is stored: opened by the installation's secret."""
    return wrap(authority.private_der, secret, _BOUND_TO)


def open_authority(wrapped: str, certificate_pem: str, secret: str) -> Authority:
    """Return the authority; WrongPasswordError when the secret is another one."""
    return Authority(certificate_pem, unwrap(wrapped, secret, _BOUND_TO))


def key_usage(*, signing: bool) -> x509.KeyUsage:
    """Return the key usage of a person's certificate, or of the root's."""
    return x509.KeyUsage(
        digital_signature=signing,
        content_commitment=signing,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=not signing,
        crl_sign=not signing,
        encipher_only=False,
        decipher_only=False,
    )


def pem(certificate: x509.Certificate) -> str:
    """Return the certificate as PEM text."""
    return certificate.public_bytes(serialization.Encoding.PEM).decode("ascii")


def private_der(key: ec.EllipticCurvePrivateKey) -> bytes:
    """Return the private key as PKCS#8, DER."""
    return key.private_bytes(
        serialization.Encoding.DER,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
