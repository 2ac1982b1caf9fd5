"""The library on a database with people in it; its pages only look, so one will do."""

from collections.abc import Iterator

import pytest

from tests.conftest import Stages
from tests.scenario import LEAD
from tests.webapp.desk import Desk, Visitor


@pytest.fixture(scope="package")
def desk(sqlite_stages: Stages) -> Iterator[Desk]:
    """The application before any round."""
    desk = Desk(sqlite_stages.fresh("place"))
    yield desk
    desk.close()


@pytest.fixture(scope="package")
def reader(desk: Desk) -> Visitor:
    """A lead who is signed in."""
    return desk.person(LEAD)
