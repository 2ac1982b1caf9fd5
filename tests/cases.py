"""Tables of cases, as parameters of a test."""

from collections.abc import Mapping
from typing import Any

import pytest


def first_on_both(cases: Mapping[str, tuple[Any, ...]]) -> list[Any]:
    """Return the cases; PostgreSQL is asked for the first alone, for all when thorough.

    For cases of one path through the database: what tells them apart is decided by the
    program.
    """
    marks = [[], *([pytest.mark.any_database] for _ in list(cases)[1:])]
    return [
        pytest.param(*case, id=name, marks=own)
        for (name, case), own in zip(cases.items(), marks, strict=True)
    ]
