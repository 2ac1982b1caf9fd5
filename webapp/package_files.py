"""Make the next signed file of a package: pages first, then one signature more."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from models.errors import ConflictError
from models.files.store import FileStore
from models.services.turnover.acceptance import FileToAccept
from models.services.turnover.package import Prepared
from models.signing import pdf_seals, seals
from models.signing.verification import verify_package
from webapp.package_photographs import printed_photographs
from webapp.pdf import package_attachments, render_package, seal_boxes, stamp


class UnverifiedPackageError(ConflictError):
    """A file does not verify: it must be neither stored nor accepted."""

    def __init__(self, faults: Sequence[str]) -> None:
        super().__init__(
            f"The signed file does not verify: {' '.join(faults)} Nothing was stored; "
            "tell whoever runs the server."
        )


def make_signed(
    prepared: Prepared, now: datetime, store: FileStore | None = None
) -> bytes:
    """Return the package's PDF with this person's signature added.

    *store*: where the photographs are that are printed.

    The pages are rendered once, when the first signature is made; every later
    signature is an increment that leaves the earlier ones untouched. The file is
    verified before anybody stores it: UnverifiedPackageError, CertificateTimeError.
    """
    pdf = prepared.pdf or render_package(
        prepared.document,
        package_attachments(prepared.document, prepared.root_pem),
        printed=printed_photographs(prepared.document, store) if store else None,
    )
    box = seal_boxes(prepared.document)[prepared.field]
    local = now.astimezone(ZoneInfo(prepared.document["zone"]))
    lines = [
        prepared.person_name,
        f"{prepared.person_role}, {prepared.organisation}",
        f"{prepared.meaning} {local:%Y-%m-%d %H:%M %z}",
        prepared.statement,
        f"key {seals.fingerprint(prepared.certificate_pem)[:23]}",
    ]
    signed = pdf_seals.seal_pdf(
        pdf,
        private_key=prepared.private_key,
        certificate_pem=prepared.certificate_pem,
        root_pem=prepared.root_pem,
        field=prepared.field,
        stamp_pdf=stamp(lines, box.width, box.height),
        box=box.corners,
        page=box.page,
        reason=prepared.statement,
        name=prepared.person_name,
        now=now,
    )
    _verify(signed, prepared.root_pem, so_far=True)
    return signed


def verified_digest(file: FileToAccept) -> str:
    """Return the SHA-256 of a stored file that verifies; UnverifiedPackageError."""
    return _verify(file.pdf, file.root_pem, so_far=False)


def _verify(pdf: bytes, root_pem: str, *, so_far: bool) -> str:
    verified = verify_package(pdf, root_pem, so_far=so_far)
    if not verified.ok:
        raise UnverifiedPackageError(verified.faults)
    return verified.sha256


def make_draft(document: dict[str, Any], store: FileStore) -> bytes:
    """Return the pages of a package as it would be now: unsigned, marked as draft."""
    printed = printed_photographs(document, store)
    return render_package(document, (), draft=True, printed=printed)
