"""The owner accepts an approved package, with a signature of their own.

Verifying the file takes a second, so it happens before the transaction:
`file_to_accept` reads, the caller verifies, `accept_package` signs that very file.
"""

from collections.abc import Callable
from datetime import datetime
from typing import NamedTuple
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, NotFoundError
from models.schema import Authority, Package, Person, Round
from models.services.keeping.log import take_turn
from models.services.people.access import acting_role, person_of, require, round_of
from models.services.turnover.package import Prepared, pdf_of, sign_digest
from models.services.turnover.seals_wanted import latest_package
from models.signing import keys

ACCEPTED = "I accept this package; its readings are the baseline."
ACCEPTED_LATER = "I accept this package; its readings join the record of this lineup."


class FileToAccept(NamedTuple):
    """The stored file of an approved package, and the authority's certificate."""

    pdf: bytes
    root_pem: str


def acceptance_statement(kind: str) -> str:
    """Return what the owner says by accepting a round of this kind."""
    return ACCEPTED if kind == "acceptance" else ACCEPTED_LATER


def file_to_accept(
    session: Session, *, person_id: UUID, round_id: UUID
) -> FileToAccept:
    """Return the file that is to be verified before it is accepted.

    Raises as `accept_package` does where there is nothing to accept.
    """
    _person, _round, package = _to_accept(session, person_id, round_id)
    root_pem = session.scalars(select(Authority)).one().certificate_pem
    return FileToAccept(pdf_of(session, package), root_pem)


def accept_package(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    sha256: str,
    password: str,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> None:
    """Accept the file of this digest: what `file_to_accept` gave, once verified.

    From that moment the baseline is fixed. Raises ForbiddenError for anybody but
    an owner, ConflictError when there is nothing to accept or the file is not the one
    that was signed, WrongPasswordError.
    """
    take_turn(session)
    person, round_, package = _to_accept(session, person_id, round_id)
    if sha256 != package.files[-1].sha256:
        raise ConflictError(
            "The stored file is not the one that was signed last: nothing was "
            "accepted. Look at the package again."
        )
    prepared = _prepared(person, round_, package, password)
    round_.state = "accepted"
    sign_digest(session, prepared, package, sha256, now, new_id)


def _to_accept(
    session: Session, person_id: UUID, round_id: UUID
) -> tuple[Person, Round, Package]:
    person = person_of(session, person_id)
    require(person, "accept")
    round_ = round_of(session, person, round_id)
    if round_.state != "approved":
        raise ConflictError(
            f"{round_.title} is {round_.state}: only an approved package "
            "can be accepted."
        )
    package = latest_package(session, round_.id)
    if package is None:
        raise NotFoundError("package of round", round_id)
    return person, round_, package


def _prepared(
    person: Person, round_: Round, package: Package, password: str
) -> Prepared:
    return Prepared(
        document={},
        digest=package.content_digest,
        pdf=None,
        package_id=package.id,
        files=len(package.files),
        field="",
        meaning="accepted",
        statement=acceptance_statement(round_.kind),
        person_id=person.id,
        person_name=person.name,
        person_role=acting_role(person, "accept"),
        organisation=person.organisation.name,
        certificate_pem=person.key.certificate_pem,
        root_pem="",
        private_key=keys.open_key(person.key.wrapped_key, password, str(person.id)),
    )
