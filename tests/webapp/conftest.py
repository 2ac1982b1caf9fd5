"""The desk pages on a database at a stage of the scenario."""

from collections.abc import Callable, Iterator

import pytest

from tests.conftest import Stages
from tests.webapp.desk import Desk


@pytest.fixture
def desk_at(sqlite_stages: Stages) -> Iterator[Callable[[str], Desk]]:
    """Return a function: the application at a stage of tests/scenario.py."""
    begun: list[Desk] = []

    def begin(stage: str) -> Desk:
        begun.append(Desk(sqlite_stages.fresh(stage)))
        return begun[-1]

    yield begin
    for desk in begun:
        desk.close()
