"""Whether a certificate is good at the time at which somebody signs."""

from datetime import datetime

from cryptography import x509

from models.errors import ConflictError


class CertificateTimeError(ConflictError):
    """What was signed at this time could never be verified: nothing is signed."""


def check_validity(certificate_pem: str, at: datetime) -> None:
    """Raise CertificateTimeError unless the certificate is good at *at*.

    A verifier asks whether the certificate was good when the signature was made.
    """
    certificate = x509.load_pem_x509_certificate(certificate_pem.encode())
    first, last = certificate.not_valid_before_utc, certificate.not_valid_after_utc
    clock = f"The server's clock says {time_words(at)}, and your certificate"
    never = "what is signed now could never be verified. Nothing was signed."
    if at < first:
        raise CertificateTimeError(
            f"{clock} begins on {time_words(first)}: {never} Whoever runs the server "
            "puts its clock right; then sign again."
        )
    if at > last:
        raise CertificateTimeError(
            f"{clock} ended on {time_words(last)}: {never} If the clock is right, you "
            "need a new certificate."
        )


def time_words(at: datetime) -> str:
    """Return a time of the server's clock, in words: 3 March 2026, 21:05 UTC."""
    return f"{at.day} {at:%B %Y, %H:%M} UTC"
