"""The desk pages on a database at a stage of the scenario."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.conftest import Stages
from tests.sqlite_copy import put_copy
from tests.webapp.desk import Desk
from webapp.config import instance_dir


class Desks:
    """Applications that were made once: each use gets its database as at its stage.

    An application knows its addresses and its statements; to make one anew takes longer
    than most tests.
    """

    def __init__(self, stages: Stages) -> None:
        """Begin with none."""
        self._stages = stages
        self._free: dict[tuple[str, Path], list[Desk]] = defaultdict(list)

    def take(self, stage: str) -> Desk:
        """Return one at *stage* that nobody else uses."""
        free = self._free[stage, instance_dir()]
        if not free:
            return Desk(self._stages.fresh(stage))
        desk = free.pop()
        put_copy(self._stages.url(stage), desk.url)
        return desk

    def give_back(self, stage: str, desk: Desk) -> None:
        """Let go of its database, and keep the application for the next test."""
        desk.close()
        self._free[stage, instance_dir()].append(desk)


@pytest.fixture(scope="session")
def desks(sqlite_stages: Stages) -> Desks:
    """The applications of the run."""
    return Desks(sqlite_stages)


@pytest.fixture
def desk_at(desks: Desks) -> Iterator[Callable[[str], Desk]]:
    """Return a function: the application at a stage of tests/scenario.py."""
    begun: list[tuple[str, Desk]] = []

    def begin(stage: str) -> Desk:
        begun.append((stage, desks.take(stage)))
        return begun[-1][1]

    yield begin
    for stage, desk in begun:
        desks.give_back(stage, desk)
