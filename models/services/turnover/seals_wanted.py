"""Whose signatures the package needs, and which it has."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, defer, joinedload, selectinload

from models.schema import Package, PackageFile, Person, Round, SealWaiver
from models.services.field.card_facts import CardFacts
from models.services.turnover.freeze_round import content_digest, round_content


@dataclass(frozen=True, slots=True, kw_only=True)
class Seals:
    """The signatures on a package: by whom as performed, and what is missing."""

    performers: list[Person]
    missing: list[Person]
    waived: list[SealWaiver]
    content: dict[str, Any]
    digest: str
    package: (
        Package | None
    )  # the newest one, if nothing has changed since it was frozen


def seals_wanted(session: Session, round_: Round, facts: list[CardFacts]) -> Seals:
    """Return who signs the package as performed.

    Those whose card signatures hold; a lead may waive one with a reason.
    While the round is open, signatures on a package frozen before it last changed
    do not count. Acts of safety that happened after it was frozen change nothing of
    it: a shift that ends, a clearance that is handed back. Once it is turned over, the
    package is what it is: a later edition of this program may word the content
    otherwise.
    """
    signing = {s.by_id: s.by for one in facts for s in one.signed}
    waived = list(
        session.scalars(
            select(SealWaiver)
            .where(SealWaiver.round_id == round_.id)
            .order_by(SealWaiver.at, SealWaiver.id)
            .options(joinedload(SealWaiver.person), joinedload(SealWaiver.by))
        )
    )
    excused = {w.person_id for w in waived}
    performers = sorted(
        (p for p in signing.values() if p.id not in excused), key=lambda p: p.name
    )
    package = latest_package(session, round_.id)
    until = package.made_at if package else None
    content = round_content(session, round_, facts, waived, until)
    digest = content_digest(content)
    changed = package is not None and package.content_digest != digest
    if changed and round_.state == "open":
        package = None
        if "safety" in content:
            content = round_content(session, round_, facts, waived)
            digest = content_digest(content)
    sealed = sealed_by(package) if package else set()
    return Seals(
        performers=performers,
        missing=[p for p in performers if p.id not in sealed],
        waived=waived,
        content=content,
        digest=digest,
        package=package,
    )


def latest_package(session: Session, round_id: UUID) -> Package | None:
    """Return the newest frozen package of the round."""
    return session.scalars(
        select(Package)
        .where(Package.round_id == round_id)
        .options(selectinload(Package.files).joinedload(PackageFile.by))
        .order_by(Package.revision.desc(), Package.attempt.desc())
        .limit(1)
    ).first()


def latest_packages(session: Session, round_ids: Sequence[UUID]) -> dict[UUID, Package]:
    """Return the newest package of each round that has one, without its document."""
    rows = session.scalars(
        select(Package)
        .where(Package.round_id.in_(round_ids))
        .options(
            defer(Package.document),
            selectinload(Package.files).joinedload(PackageFile.by),
        )
        .order_by(Package.revision, Package.attempt)
    )
    return {row.round_id: row for row in rows}


def sealed_by(package: Package) -> set[UUID]:
    """Return who has signed the package as performed."""
    return {f.by_id for f in package.files if f.field.startswith("performed")}
