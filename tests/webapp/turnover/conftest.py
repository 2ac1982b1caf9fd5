"""A desk whose round is troubled."""

from collections.abc import Callable

import pytest

from tests.webapp.desk import Desk
from tests.webapp.turnover.troubled import Troubled, trouble


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """The application, with a round that is open."""
    return desk_at("opened")


@pytest.fixture
def troubled(desk: Desk) -> Troubled:
    """What stands in the way of that round."""
    with desk.work() as work:
        return trouble(work)
