"""The package: freeze, sign as performed, approve, fetch.

Making pages and signatures takes seconds, so it happens between two short
transactions: `prepare` reads, the caller makes the file, `store_signed` writes,
after checking that the round is still what was signed.
"""

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import func, select
from sqlalchemy.orm import Session, undefer

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.schema import Authority, Package, PackageFile, Round, Signature
from models.services.field.card_facts import gather, round_cards
from models.services.keeping.log import (
    append_log,
    check_clock,
    stamp,
    take_turn,
    texted,
)
from models.services.people.access import (
    acting_role,
    has_role,
    person_of,
    require,
    require_open,
    round_of,
)
from models.services.turnover.freeze_round import freeze
from models.services.turnover.gate import gate
from models.services.turnover.seals_wanted import Seals, latest_package, seals_wanted
from models.signing import chain, keys, seals

MEANINGS = {
    "performed": "I performed the tests that carry my name, as recorded here.",
    "approved": "I have reviewed this record and approve it for turnover.",
}

# What of `access.DOING` each meaning is.
DOING_OF = {"performed": "record", "approved": "lead", "accepted": "accept"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """What is needed to make the next signed file of a package."""

    document: dict[str, Any]
    digest: str
    pdf: bytes | None  # the file with the signatures so far; None: to be made
    package_id: UUID | None
    files: int  # how many signatures that file carries
    field: str
    meaning: str
    statement: str
    person_id: UUID
    person_name: str
    person_role: str
    organisation: str
    certificate_pem: str
    root_pem: str
    private_key: Any


def draft_document(
    session: Session, *, person_id: UUID, round_id: UUID, now: datetime
) -> dict[str, Any]:
    """Return the package document as it would be frozen now.

    Raises ConflictError once the round is turned over: then there is the package.
    """
    person = person_of(session, person_id)
    require(person, "record")
    round_ = round_of(session, person, round_id)
    require_open(round_)
    wanted = _wanted(session, round_)
    return freeze(session, wanted.content, wanted.performers, now)


def prepare(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    meaning: str,
    password: str,
    now: datetime,
) -> Prepared:
    """Check that this person may sign now, and open their key.

    Raises ConflictError with the reason, WrongPasswordError, and InputError for
    any meaning but these two: for acceptance there is `acceptance`.
    """
    check_clock(session, now)
    person = person_of(session, person_id)
    if meaning not in ("performed", "approved"):
        message = "A package is signed as performed or approved."
        raise InputError(Fault(field="meaning", message=message))
    state = gate(session, person_id=person_id, round_id=round_id)
    if meaning == "performed" and not state.may_sign:
        raise ConflictError(
            "The package is ready to be signed as performed once nothing else stands "
            "in the way, and by those who performed the tests."
        )
    if meaning == "approved" and not state.may_approve:
        raise ConflictError(state.why_not)
    wanted = state.seals
    document = (
        json.loads(wanted.package.document)
        if wanted.package
        else freeze(session, wanted.content, wanted.performers, now)
    )
    return Prepared(
        document=document,
        digest=wanted.digest,
        pdf=pdf_of(session, wanted.package) if wanted.package else None,
        package_id=wanted.package.id if wanted.package else None,
        files=len(wanted.package.files) if wanted.package else 0,
        field=_field(wanted, person_id, meaning),
        meaning=meaning,
        statement=MEANINGS[meaning],
        person_id=person.id,
        person_name=person.name,
        person_role=acting_role(person, DOING_OF[meaning]),
        organisation=person.organisation.name,
        certificate_pem=person.key.certificate_pem,
        root_pem=session.scalars(select(Authority)).one().certificate_pem,
        private_key=keys.open_key(person.key.wrapped_key, password, str(person.id)),
    )


def store_signed(
    session: Session,
    *,
    prepared: Prepared,
    round_id: UUID,
    pdf: bytes,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> None:
    """Store the signed file; an approval closes the round.

    Raises ConflictError when the round or the package changed in the meantime.
    """
    take_turn(session)
    person = person_of(session, prepared.person_id)
    round_ = round_of(session, person, round_id)
    if person.key.certificate_pem != prepared.certificate_pem:
        raise ConflictError(
            "You were given a new key while the package was being made: sign again."
        )
    wanted = _wanted(session, round_)
    held = wanted.package.id if wanted.package else None
    if wanted.digest != prepared.digest or held != prepared.package_id:
        raise ConflictError(
            "The round changed while the package was being made: look at the gate "
            "and sign again."
        )
    if wanted.package and len(wanted.package.files) != prepared.files:
        raise ConflictError(
            "Somebody else signed the package at the same moment: sign again, on "
            "top of their signature."
        )
    package = wanted.package or _new_package(session, round_, prepared, now, new_id)
    sha256 = hashlib.sha256(pdf).hexdigest()
    package.files.append(
        PackageFile(
            id=new_id(),
            seq=len(package.files) + 1,
            field=prepared.field,
            by_id=person.id,
            by=person,
            at=now,
            sha256=sha256,
            pdf=pdf,
        )
    )
    if prepared.meaning == "approved":
        round_.state = "approved"
    session.flush()
    sign_digest(session, prepared, package, sha256, now, new_id)


def sign_digest(
    session: Session,
    prepared: Prepared,
    package: Package,
    sha256: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> None:
    """Store the signature on the file's digest, and log it."""
    statement = chain.canonical(
        texted(
            {
                "package": str(package.id),
                "sha256": sha256,
                "meaning": prepared.meaning,
                "statement": prepared.statement,
                "person": {
                    "id": str(prepared.person_id),
                    "name": prepared.person_name,
                },
                "at": stamp(now),
            }
        )
    )
    signature = Signature(
        id=new_id(),
        package_id=package.id,
        meaning=prepared.meaning,
        statement=statement.decode(),
        seal=seals.seal(prepared.private_key, prepared.certificate_pem, statement, now),
        fingerprint=seals.fingerprint(prepared.certificate_pem),
        by_id=prepared.person_id,
        at=now,
    )
    session.add(signature)
    session.flush()
    append_log(
        session,
        actor_id=prepared.person_id,
        action=f"sign package as {prepared.meaning}",
        subject=f"round {package.round_id}",
        body={
            "package": str(package.id),
            "sha256": sha256,
            "content": prepared.digest,
            "seal": signature.seal,
        },
        now=now,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PackageView:
    """The package of a round, as pages show it."""

    package_id: UUID
    revision: int
    sha256: str
    content_digest: str
    approved: bool
    stands: bool  # nothing of the round has changed since it was frozen
    made_at: datetime
    signatures: list[dict[str, Any]]


def package_view(
    session: Session, *, person_id: UUID, round_id: UUID
) -> PackageView | None:
    """Return the newest package of the round, or None before the first signature."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    package = latest_package(session, round_.id)
    if package is None or not package.files:
        return None
    rows = session.scalars(
        select(Signature)
        .where(Signature.package_id == package.id)
        .order_by(Signature.at)
    )
    return PackageView(
        package_id=package.id,
        revision=package.revision,
        sha256=package.files[-1].sha256,
        content_digest=package.content_digest,
        approved=any(f.field == "approved" for f in package.files),
        stands=round_.state != "open"
        or _wanted(session, round_).digest == package.content_digest,
        made_at=package.made_at,
        signatures=[
            {
                "by": row.by.name,
                "role": acting_role(row.by, DOING_OF[row.meaning], row.at),
                "organisation": row.by.organisation.name,
                "meaning": row.meaning,
                "at": stamp(row.at),
                "key": row.fingerprint,
            }
            for row in rows
        ],
    )


def package_pdf(
    session: Session, *, person_id: UUID, round_id: UUID
) -> tuple[str, bytes]:
    """Return (file name, bytes) of the newest package file.

    An owner gets approved packages only. Raises NotFoundError.
    """
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    package = latest_package(session, round_.id)
    if package is None or (has_role(person, "owner") and round_.state == "open"):
        raise NotFoundError("package of round", round_id)
    return _file_name(round_, package), pdf_of(session, package)


def package_of_round(session: Session, *, round_id: UUID) -> tuple[str, bytes]:
    """Return (file name, bytes) for whoever runs the installation.

    Raises NotFoundError when there is no such round, or no package of it yet.
    """
    round_ = session.get(Round, round_id)
    if round_ is None:
        raise NotFoundError("round", round_id)
    package = latest_package(session, round_.id)
    if package is None:
        raise NotFoundError("package of round", round_id)
    return _file_name(round_, package), pdf_of(session, package)


def _file_name(round_: Round, package: Package) -> str:
    lineup = round_.lineup
    name = f"{lineup.site.name} {lineup.name} {round_.title} rev {package.revision}"
    words = "".join(c if c.isalnum() else " " for c in name).lower().split()
    return f"{'-'.join(words)}.pdf"


def pdf_of(session: Session, package: Package) -> bytes:
    """Return the newest file of a package."""
    return (
        session.scalars(
            select(PackageFile)
            .where(PackageFile.package_id == package.id)
            .options(undefer(PackageFile.pdf))
            .order_by(PackageFile.seq.desc())
            .limit(1)
        )
        .one()
        .pdf
    )


def _wanted(session: Session, round_: Round) -> Seals:
    facts = list(gather(session, round_cards(session, round_.id)).values())
    return seals_wanted(session, round_, facts)


def _field(wanted: Seals, person_id: UUID, meaning: str) -> str:
    if meaning == "approved":
        return "approved"
    for number, person in enumerate(wanted.performers, start=1):
        if person.id == person_id:
            return f"performed_{number}"
    raise InputError(
        Fault(field="password", message="You performed none of these tests.")
    )


def _new_package(
    session: Session,
    round_: Round,
    prepared: Prepared,
    now: datetime,
    new_id: Callable[[], UUID],
) -> Package:
    last = session.scalars(
        select(func.max(Package.attempt)).where(
            Package.round_id == round_.id, Package.revision == round_.revision
        )
    ).one()
    package = Package(
        id=new_id(),
        round_id=round_.id,
        revision=round_.revision,
        attempt=(last or 0) + 1,
        content_digest=prepared.digest,
        document=chain.canonical(prepared.document).decode(),
        made_at=now,
    )
    session.add(package)
    session.flush()
    return package
