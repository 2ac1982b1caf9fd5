"""A package with real pages and real signatures, and what it was made of."""

import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Authority, Package, Person
from models.signing import keys
from tests.scenario import LEAD, PASSWORD, TECHNICIAN, Work
from webapp.package_files import make_signed


@dataclass(frozen=True, slots=True)
class Made:
    """A package as the program makes it, and what it is made of."""

    pdf: bytes
    performed: bytes  # before the approval
    document: dict[str, Any]
    root_pem: str
    keys: dict[str, tuple[Any, str]]  # name -> private key, certificate


def make_package(session: Session) -> Made:
    """Sign and approve the package of a complete round."""
    work = Work.resume(session)
    performed = work.seal(TECHNICIAN, "performed", make_signed)
    pdf = work.seal(LEAD, "approved", make_signed)
    return Made(
        pdf,
        performed,
        json.loads(session.scalars(select(Package)).one().document),
        session.scalars(select(Authority)).one().certificate_pem,
        {
            person.name: (
                keys.open_key(person.key.wrapped_key, PASSWORD, str(person.id)),
                person.key.certificate_pem,
            )
            for person in session.scalars(select(Person))
        },
    )
