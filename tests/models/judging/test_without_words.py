"""Where nobody reads words, no number is put into words: that is what takes long."""

import json
import sys
from collections.abc import Mapping
from typing import Any

from models.judging import wording
from tests.data.golden_cases import GOLDEN, judge_items


def figures_said(cases: list[Mapping[str, Any]], *, working: bool) -> int:
    """Return how many numbers are rounded for people while *cases* are judged."""
    said = 0
    wording.amount.cache_clear()

    def see(frame: Any, event: str, _: Any) -> None:
        nonlocal said
        said += event == "call" and frame.f_code is wording.figure.__code__

    before = sys.getprofile()
    sys.setprofile(see)
    try:
        for case in cases:
            judge_items(case["items"], working=working)
    finally:
        sys.setprofile(before)
    return said


def test_no_number_is_said_without_a_working() -> None:
    cases = json.loads(GOLDEN.read_text("utf-8"))
    assert figures_said(cases, working=True) > len(cases)
    assert figures_said(cases, working=False) == 0
