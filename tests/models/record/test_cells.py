"""What a cell's plate says."""

import pytest

from models.record.cells import cell_progress

CASES: dict[str, tuple[list[str], str, float]] = {
    "no cards": ([], "no cards", 0.0),
    "every card withdrawn": (["withdrawn"] * 2, "withdrawn", 0.0),
    "every card signed": (["signed"] * 2, "all signed", 1.0),
    "one withdrawn of three": (
        ["signed", "signed", "withdrawn"],
        "2 of 3 signed",
        2 / 3,
    ),
    "nothing begun": (["not_begun", "not_begun"], "not begun", 0.0),
    "begun": (["begun", "not_begun"], "0 of 2 signed", 0.0),
    "handed back": (["signed", "returned"], "1 of 2 signed", 0.5),
}


@pytest.mark.parametrize(("states", "text", "share"), CASES.values(), ids=CASES)
def test_progress(states: list[str], text: str, share: float) -> None:
    found = cell_progress(states)
    assert (found.text, found.share) == (text, share)
