"""Verify a package: signatures, whole file, the data inside. No database needed."""

import hashlib
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from models.signing import chain
from models.signing.containers import container_holds
from models.signing.embedded import embedded_files
from models.signing.seals import BrokenSealError, check_seal, fingerprint

RECORD = "record.json"
ROOT = "witnessmark-root.pem"
SAFETY = "safety.json"
APPROVED = "approved"
AS_SIGNED = (
    *("text", "unit", "conditions", "instrument", "taken_at", "supersedes", "reason"),
)
# The words of a judgement are worked out when they are shown: a later edition of the
# program may say the same thing better than on the day of the signature.
AS_JUDGED = (
    *("verdict", "value", "unit", "corrected", "corrected_unit"),
    *("limit_low", "limit_high", "uncertainty"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PdfSeal:
    """One signature of the file."""

    field: str
    person: str
    reason: str
    at: str
    key: str
    holds: bool
    why: str  # empty when it holds


@dataclass(slots=True, kw_only=True)
class Verification:
    """What was found; `ok` only if every part of it holds.

    `own_root` tells that the signatures were only checked against the
    certificate inside the file: that proves that the file is unchanged since it
    was signed, not whose authority issued the keys. `root` is its fingerprint.
    """

    seals: list[PdfSeal] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    record: dict[str, Any] | None = None
    card_seals: int = 0
    sha256: str = ""
    root: str = ""
    own_root: bool = True

    @property
    def ok(self) -> bool:
        """Whether everything holds."""
        return not self.faults


def verify_package(
    pdf: bytes, root_pem: str | None = None, *, so_far: bool = False
) -> Verification:
    """Verify the bytes of a package.

    *root_pem* is the authority's certificate as obtained from the test firm by
    another way; without one the certificate inside the file is used. *so_far*: a
    signature that is still to come is no fault. Nothing is raised: whatever cannot
    be read is a fault.
    """
    found = Verification(sha256=hashlib.sha256(pdf).hexdigest())
    try:
        _verify(pdf, root_pem, found, so_far=so_far)
    except Exception as error:
        # A damaged file fails in any library and in any way.
        words = f"{type(error).__name__}: {error}"[:200]
        found.faults.append(f"The file cannot be read as a package ({words}).")
    return found


def _verify(
    pdf: bytes, root_pem: str | None, found: Verification, *, so_far: bool
) -> None:
    from pyhanko.pdf_utils.reader import PdfFileReader

    files = embedded_files(pdf, (RECORD, ROOT, SAFETY))
    inside = files.get(ROOT)
    if root_pem is None and inside is None:
        found.faults.append("No authority's certificate is inside the file.")
        return
    root = root_pem if root_pem is not None else (inside or b"").decode()
    if root_pem and inside and _bare(root_pem) != _bare(inside.decode()):
        found.faults.append(
            "The certificate inside the file is not that of the given authority."
        )
    found.own_root = root_pem is None
    try:
        found.root = fingerprint(root)
    except ValueError:
        found.faults.append("The authority's certificate cannot be read as PEM.")
        return
    _check_record(files, found)
    reader = PdfFileReader(io.BytesIO(pdf), strict=False)
    signatures = list(reader.embedded_signatures)
    for signature in signatures:
        found.seals.append(_check_pdf_seal(signature, root))
    _check_seals(found, pdf, signatures)
    if found.record is not None:
        _check_seal_fields(found, so_far=so_far)
        _check_card_seals(found, root)


def _check_record(files: dict[str, bytes], found: Verification) -> None:
    data = files.get(RECORD)
    if data is None:
        found.faults.append(f"The record ({RECORD}) is not inside the file.")
        return
    record = json.loads(data)
    if chain.canonical(record) != data:
        found.faults.append("The record inside the file is not in canonical form.")
    found.record = record
    _check_safety(record.get("safety"), files, found)


def _check_safety(
    safety: dict[str, Any] | None, files: dict[str, bytes], found: Verification
) -> None:
    """The attached lines must be those of the record, under the digest it prints.

    A record without safety is of a round that had confirmations alone.
    """
    if safety is None:
        return
    data = files.get(SAFETY)
    if data is None:
        found.faults.append(f"The lines of the safety page ({SAFETY}) are not inside.")
        return
    if hashlib.sha256(data).hexdigest() != safety["digest"]:
        found.faults.append(f"{SAFETY} is not the file that the safety page names.")
    said = json.loads(data)["statements"]
    if said != safety["statements"]:
        found.faults.append(f"The lines in {SAFETY} are not those of the record.")
    if sum(one["act"] == "line" for one in said) != safety["lines"]:
        found.faults.append(f"{SAFETY} has not as many lines as the safety page says.")


def _check_pdf_seal(signature: Any, root_pem: str) -> PdfSeal:
    """Check one signature as of the time at which it says it was made.

    A certificate outlives its use: what counts is that it was good then, and
    that nothing has changed since.
    """
    from asn1crypto import pem, x509
    from pyhanko.sign.validation import validate_pdf_signature
    from pyhanko_certvalidator import ValidationContext

    root = x509.Certificate.load(pem.unarmor(root_pem.encode())[2])
    at = signature.self_reported_timestamp
    context = ValidationContext(
        trust_roots=[root], allow_fetching=False, moment=at, retroactive_revinfo=True
    )
    certificate = signature.signer_cert
    common = {
        "field": signature.field_name,
        "person": certificate.subject.native.get("common_name", "?"),
        "reason": str(signature.sig_object.get("/Reason", "")),
        "at": at.isoformat() if at else "",
        "key": hashlib.sha256(certificate.dump()).digest().hex(":").upper(),
    }
    try:
        status = validate_pdf_signature(signature, signer_validation_context=context)
        whole = container_holds(bytes(signature.pkcs7_content), root.dump())
    except Exception as error:
        return PdfSeal(**common, holds=False, why=f"cannot be checked: {error}")
    if status.bottom_line and not whole:
        why = "what surrounds the signature was changed"
        return PdfSeal(**common, holds=False, why=why)
    return PdfSeal(**common, holds=bool(status.bottom_line), why=_why(status))


def _why(status: Any) -> str:
    if status.bottom_line:
        return ""
    if not status.intact:
        return "the signed bytes were changed"
    if not status.valid:
        return "the signature does not belong to the key"
    if not status.trusted:
        return "the key was not issued by this authority"
    return "something was added that a signature does not allow"


def _check_seals(found: Verification, pdf: bytes, signatures: list[Any]) -> None:
    if not found.seals:
        found.faults.append("The file carries no signature.")
        return
    for one in found.seals:
        if not one.holds:
            found.faults.append(
                f"The signature {one.field} of {one.person} does not hold: {one.why}."
            )
    start, length, second, rest = (
        int(edge) for edge in signatures[-1].sig_object["/ByteRange"]
    )
    if start != 0 or second + rest != len(pdf) or length > second:
        found.faults.append(
            "The last signature does not cover the whole file: something was added "
            "after it."
        )


def _check_seal_fields(found: Verification, *, so_far: bool) -> None:
    """The signatures must be those that the record announces."""
    assert found.record is not None
    announced = {seal["field"]: seal for seal in found.record.get("seals", [])}
    waived = {one["person"] for one in found.record.get("waived", [])}
    present = {one.field for one in found.seals}
    for name in sorted(present - set(announced)):
        found.faults.append(f"The signature {name} is not one that the record names.")
    for name, seal in announced.items():
        if not so_far and name not in present and seal["person"] not in waived:
            found.faults.append(f"The signature {name} is missing.")
    for one in found.seals:
        wanted = announced.get(one.field, {}).get("person")
        if wanted and wanted != one.person:
            found.faults.append(
                f"The signature {one.field} is {one.person}'s, where the record names "
                f"{wanted}."
            )
        if one.field == APPROVED and one.person in _performers(found.record):
            found.faults.append(f"{one.person} approved what they performed.")


def _performers(record: dict[str, Any]) -> set[str]:
    return {
        seal["person"] for seal in record["seals"] if seal["meaning"] == "performed"
    }


def _check_card_seals(found: Verification, root_pem: str) -> None:
    assert found.record is not None
    for card, sign in _card_signatures(found.record):
        place = f"sheet {card['sheet']}"
        try:
            signer = check_seal(sign["seal"], sign["statement"].encode(), root_pem)
        except BrokenSealError as error:
            found.faults.append(f"{place}: {error}")
            continue
        found.card_seals += 1
        if not _is_theirs(signer, sign):
            found.faults.append(f"{place}: it was not {sign['by']} who signed.")
    for card in found.record.get("cards", []):
        if card["signatures"] and not _says_the_same(card):
            found.faults.append(
                f"sheet {card['sheet']}: the readings are not those that were signed."
            )


def _card_signatures(
    record: dict[str, Any],
) -> Iterator[tuple[dict[str, Any], dict[str, Any]]]:
    for card in record.get("cards", []):
        for sign in card["signatures"]:
            yield card, sign


def _is_theirs(signer: Any, sign: dict[str, Any]) -> bool:
    """Whether the key is that of the person who is named."""
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.x509.oid import NameOID

    subject = {a.oid: a.value for a in signer.subject}
    person = json.loads(sign["statement"])["person"]
    return bool(
        subject.get(NameOID.USER_ID) == person["id"]
        and subject.get(NameOID.COMMON_NAME) == person["name"] == sign["by"]
        and signer.fingerprint(SHA256()).hex(":").upper() == sign["key"]
    )


def _says_the_same(card: dict[str, Any]) -> bool:
    """Whether the readings of the record are those that were signed, and no others.

    Each who took readings signs for theirs. A reading may have been judged again
    since: then the verdict that was signed is among those that the record says were
    replaced.
    """
    signed = [json.loads(sign["statement"])["card"] for sign in card["signatures"]]
    shown = {reading["id"]: reading for reading in card["readings"]}
    then = [(one["id"], one) for part in signed for one in part["readings"]]
    return (
        all(part["id"] == card["id"] for part in signed)
        and shown.keys() == {key for key, _ in then}
        and all(
            shown[key][part] == one[part] for key, one in then for part in AS_SIGNED
        )
        and all(
            _as_judged(one["judgement"]) in _judgements(shown[key]) for key, one in then
        )
    )


def _judgements(reading: dict[str, Any]) -> list[Any]:
    replaced = [one["judgement"] for one in reading.get("judged_before", [])]
    return [_as_judged(one) for one in (reading["judgement"], *replaced)]


def _as_judged(judgement: dict[str, Any]) -> list[Any]:
    """Return verdict and numbers of a judgement."""
    return [judgement[name] for name in AS_JUDGED]


def _bare(pem_text: str) -> str:
    return "".join(pem_text.split())
