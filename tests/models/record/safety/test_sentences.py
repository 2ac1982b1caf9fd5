"""Every reason and every refusal has a sentence, with all that it names."""

import ast
from pathlib import Path

import pytest

from models.record import safety
from models.record.safety.sentences import sentence, sentence_id
from models.words import catalogue

ROOM = Path(safety.__file__).parent
MADE_BY = {"reason": 0, "fault": 1}  # function -> which argument is the code


def made() -> dict[str, set[str]]:
    """Return what each code is made with, as the calls in the core say it."""
    found: dict[str, set[str]] = {}
    for path in sorted(ROOM.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                place = MADE_BY.get(node.func.id)
                code = node.args[place] if place is not None and node.args else None
                if isinstance(code, ast.Constant):
                    names = {word.arg for word in node.keywords if word.arg}
                    found.setdefault(str(code.value), set()).update(names)
    return found


MADE = made()


@pytest.mark.parametrize("code", MADE)
def test_a_code_has_a_sentence_that_takes_what_is_named(code: str) -> None:
    facts = dict.fromkeys(MADE[code], "2")
    found = {"code": code, "facts": facts}
    text = sentence(found, changes={}, name=str, clock=str)
    assert text.endswith(".")


def test_no_sentence_is_without_a_code() -> None:
    said = {key.split(".")[2] for key in catalogue() if key.startswith("safety.re")}
    by_value = {"insulation_first", "density_first"}  # made as values in waits.py
    by_value |= {
        "note_missing",
        "note_number",
        "note_choice",
        "note_person",
        "note_ground",
        "note_cell",
    }
    by_value |= {"put_right_missing"}
    assert said == {*MADE, *by_value}


def test_a_sentence_in_full() -> None:
    found = {
        "code": "point_left",
        "facts": {"at": "2026-11-30T08:00:00.000Z", "why": "left"},
    }
    text = sentence(
        found,
        changes={"left": "the cell was left"},
        name=str,
        clock=lambda moment: moment[11:16],
    )
    assert text == "This cell has to be entered again since 08:00: the cell was left."


def test_a_reason_of_a_scope_is_its_own_refusal() -> None:
    assert sentence_id("crew_ended") == "safety.reason.crew_ended"
    assert sentence_id("discharging") == "safety.refusal.discharging"
