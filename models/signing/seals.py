"""Seals: detached CMS signatures over a statement, base64."""

import hashlib
from base64 import b64decode, b64encode
from datetime import datetime
from typing import Any

# Importing tsp teaches cms the attribute that PDF signatures carry. Once cms has read
# a seal without it, no PDF could be signed in the same process any more.
import asn1crypto.tsp  # noqa: F401
from asn1crypto import cms
from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import pkcs7

from models.errors import Fault, InputError
from models.signing.validity import check_validity


class BrokenSealError(InputError):
    """The seal does not belong to the statement, or not to the authority."""

    def __init__(self, why: str) -> None:
        super().__init__(Fault(field="seal", message=why))


def seal(private_key: Any, certificate_pem: str, data: bytes, at: datetime) -> str:
    """Return a detached CMS signature over *data*, with the certificate inside.

    *at* is the time that the data state; CertificateTimeError where the certificate
    is not good then.
    """
    check_validity(certificate_pem, at)
    certificate = x509.load_pem_x509_certificate(certificate_pem.encode())
    options = [
        pkcs7.PKCS7Options.DetachedSignature,
        pkcs7.PKCS7Options.Binary,
        pkcs7.PKCS7Options.NoCapabilities,
    ]
    made = (
        pkcs7.PKCS7SignatureBuilder()
        .set_data(data)
        .add_signer(certificate, private_key, hashes.SHA256())
        .sign(serialization.Encoding.DER, options)
    )
    return b64encode(made).decode("ascii")


def check_seal(sealed: str, data: bytes, root_pem: str) -> x509.Certificate:
    """Return the signer's certificate; BrokenSealError when anything is off."""
    root = x509.load_pem_x509_certificate(root_pem.encode())
    try:
        return _checked(sealed, data, root)
    except BrokenSealError:
        raise
    except InvalidSignature as error:
        raise BrokenSealError("The seal's signature does not hold.") from error
    except Exception as error:
        # A damaged seal fails in any library and in any way.
        raise BrokenSealError("The seal cannot be read.") from error


def _checked(sealed: str, data: bytes, root: x509.Certificate) -> x509.Certificate:
    content = cms.ContentInfo.load(b64decode(sealed, validate=True))["content"]
    info = content["signer_infos"][0]
    attributes = {a["type"].native: a["values"][0] for a in info["signed_attrs"]}
    signer = x509.load_der_x509_certificate(content["certificates"][0].chosen.dump())
    if attributes["message_digest"].native != hashlib.sha256(data).digest():
        raise BrokenSealError("The seal was made over another statement.")
    public = signer.public_key()
    if not isinstance(public, ec.EllipticCurvePublicKey):
        raise BrokenSealError("The seal was made with a key of another kind.")
    signed = info["signed_attrs"].untag().dump()
    public.verify(info["signature"].native, signed, ec.ECDSA(hashes.SHA256()))
    try:
        signer.verify_directly_issued_by(root)
    except ValueError as error:  # issued by somebody of another name
        raise BrokenSealError("The key was not issued by this authority.") from error
    return signer


def fingerprint(certificate_pem: str) -> str:
    """Return the SHA-256 fingerprint, such as 'AB:CD:...'."""
    certificate = x509.load_pem_x509_certificate(certificate_pem.encode())
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()
