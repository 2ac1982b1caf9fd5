"""Check every signature, and every package against what was signed."""

import hashlib
import json
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session, undefer

from models.schema import Authority, LogEntry, Package, PackageFile, Signature
from models.services.turnover.freeze_round import content_digest
from models.signing import seals

ADDED = ("made_at", "log", "seals")  # what freezing adds to a round's content


def broken_seals(session: Session) -> Iterator[str]:
    """Yield a fault for every signature and package that does not hold."""
    root = session.scalars(select(Authority)).first()
    if root is None:
        return
    for row in session.scalars(select(Signature)):
        try:
            seals.check_seal(row.seal, row.statement.encode(), root.certificate_pem)
        except seals.BrokenSealError as error:
            yield f"signature {row.id} does not hold: {error.faults[0].message}"
    for package in session.scalars(select(Package)):
        if _digest(package) != package.content_digest:
            yield f"package {package.id} is not what was signed"
        yield from _named_head(session, package)
    yield from _broken_files(session)


def _digest(package: Package) -> str:
    try:
        document = json.loads(package.document)
        content = {k: v for k, v in document.items() if k not in ADDED}
        return content_digest(content)
    except (ValueError, AttributeError):
        return ""


def _named_head(session: Session, package: Package) -> Iterator[str]:
    """A package names an entry of the log: it must be there, with that hash."""
    try:
        named = json.loads(package.document)["log"]
        seq, last = int(named["seq"]), named["head"]
    except (ValueError, TypeError, KeyError):
        yield f"package {package.id} names no log entry"
        return
    entry = session.get(LogEntry, seq)
    if entry is None or entry.hash != last:
        yield f"package {package.id} names log entry {seq}, which is not there as named"


def _broken_files(session: Session) -> Iterator[str]:
    logged = set()
    for body in session.scalars(
        select(LogEntry.body).where(LogEntry.action.like("sign package as %"))
    ):
        try:
            logged.add(json.loads(body)["sha256"])
        except (ValueError, TypeError, KeyError):
            continue  # said of the entry itself
    files = select(PackageFile).options(undefer(PackageFile.pdf))
    for file in session.scalars(files.execution_options(yield_per=1)):
        sha256 = hashlib.sha256(file.pdf).hexdigest()
        if sha256 != file.sha256 or sha256 not in logged:
            yield f"file {file.id} of package {file.package_id} is not what was signed"
