"""PDF signatures: PAdES B-B, one increment each, on fields drawn by the caller."""

import io
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from cryptography.hazmat.primitives import serialization

from models.signing.validity import check_validity


def seal_pdf(
    pdf: bytes,
    *,
    private_key: Any,
    certificate_pem: str,
    root_pem: str,
    field: str,
    stamp_pdf: bytes,
    box: tuple[float, float, float, float],
    page: int,
    reason: str,
    name: str,
    now: datetime,
) -> bytes:
    """Return *pdf* with one signature more; the earlier bytes are left untouched.

    PAdES B-B (ETSI EN 319 142-1): the signing certificate is bound inside.
    *stamp_pdf* is one page drawn by the caller, shown at *box* (points, from the
    lower left) of *page* (from 0). *now* is the time that the signature states;
    CertificateTimeError where the certificate is not good then.
    """
    check_validity(certificate_pem, now)
    # pyHanko takes a second to import: only who signs pays for it.
    from asn1crypto import keys as asn1_keys
    from asn1crypto import pem as asn1_pem
    from asn1crypto import x509 as asn1_x509
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign import signers
    from pyhanko.sign.fields import SigFieldSpec, SigSeedSubFilter
    from pyhanko.stamp import StaticStampStyle
    from pyhanko_certvalidator.registry import SimpleCertificateStore

    def certificate(text: str) -> asn1_x509.Certificate:
        return asn1_x509.Certificate.load(asn1_pem.unarmor(text.encode())[2])

    der = private_key.private_bytes(
        serialization.Encoding.DER,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    store = SimpleCertificateStore()
    store.register(certificate(root_pem))
    signer = signers.SimpleSigner(
        signing_cert=certificate(certificate_pem),
        signing_key=asn1_keys.PrivateKeyInfo.load(der),
        cert_registry=store,
    )
    meta = signers.PdfSignatureMetadata(
        field_name=field,
        md_algorithm="sha256",
        subfilter=SigSeedSubFilter.PADES,
        reason=reason,
        name=name,
    )
    left, bottom, right, top = (int(edge) for edge in box)
    # The stamp is read from a file, by name, while the signature is drawn.
    with TemporaryDirectory() as folder:
        drawn = Path(folder) / "stamp.pdf"
        drawn.write_bytes(stamp_pdf)
        made = _signer_at(now)(
            meta,
            signer=signer,
            stamp_style=StaticStampStyle.from_pdf_file(
                str(drawn), border_width=0, background_opacity=1
            ),
            new_field_spec=SigFieldSpec(
                field, on_page=page, box=(left, bottom, right, top)
            ),
        ).sign_pdf(IncrementalPdfFileWriter(io.BytesIO(pdf)))
    signed: bytes = made.getvalue()
    return signed


def _signer_at(now: datetime) -> Any:
    """Return pyHanko's signer with the caller's clock in place of the machine's."""
    from pyhanko.sign import signers

    class SignerAt(signers.PdfSigner):
        def init_signing_session(self, *args: Any, **options: Any) -> Any:
            session = super().init_signing_session(*args, **options)
            session.system_time = now
            return session

    return SignerAt
