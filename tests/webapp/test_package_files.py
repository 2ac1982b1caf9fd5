"""A signed file is verified before anybody stores it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.schema import Package, Signature
from models.schema.engine import make_engine
from models.services.turnover.package import Prepared
from models.signing.validity import CertificateTimeError
from tests.conftest import Stages
from tests.scenario import BEGAN, TECHNICIAN, Work
from webapp.package_files import UnverifiedPackageError, make_signed


@pytest.fixture
def work(sqlite_stages: Stages) -> Iterator[Work]:
    """A round with every card within and signed."""
    engine = make_engine(sqlite_stages.fresh("complete"))
    with Session(engine, expire_on_commit=False) as session:
        yield Work.resume(session)
    engine.dispose()


def with_another_value(document: dict[str, Any]) -> dict[str, Any]:
    """Return the document with one reading that nobody signed."""
    card, *rest = document["cards"]
    reading, *others = card["readings"]
    card = {**card, "readings": [{**reading, "text": "9.9e9"}, *others]}
    return {**document, "cards": [card, *rest]}


def tampered(prepared: Prepared, now: datetime) -> bytes:
    document = with_another_value(prepared.document)
    return make_signed(replace(prepared, document=document), now)


def before_the_certificate(prepared: Prepared, _now: datetime) -> bytes:
    return make_signed(prepared, BEGAN - timedelta(days=300))


REFUSED = {
    "readings that nobody signed": (
        tampered,
        UnverifiedPackageError,
        "does not verify",
    ),
    "before the key was issued": (
        before_the_certificate,
        CertificateTimeError,
        "your certificate begins on",
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize(("make", "error", "words"), REFUSED.values(), ids=REFUSED)
def test_a_file_that_would_not_verify_is_not_made(
    work: Work,
    make: Callable[[Prepared, datetime], bytes],
    error: type[Exception],
    words: str,
) -> None:
    def signatures() -> int:
        rows = select(func.count()).where(Signature.package_id.is_not(None))
        return work.session.scalars(rows).one()

    with pytest.raises(error, match=words):
        work.seal(TECHNICIAN, "performed", make)
    assert signatures() == 0
    assert work.session.scalars(select(func.count()).select_from(Package)).one() == 0


@pytest.mark.slow
def test_a_file_with_signatures_to_come_is_in_order(work: Work) -> None:
    assert work.seal(TECHNICIAN, "performed", make_signed).startswith(b"%PDF")
