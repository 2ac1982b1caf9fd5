"""Sentences of safety with the names that people know."""

from typing import Any

import pytest

from models.services.safety.words import Names, names_of

GROUND = "554096a9-0000-4000-8000-000000000001"
OFF: dict[str, Any] = {
    "code": "ground_off",
    "facts": {"ground": GROUND, "since": "2026-11-30T08:15:00Z", "card": "c1"},
}


def names(acts: list[dict[str, Any]]) -> Names:
    book: Any = {"lineups": {}, "changes": {}}
    return names_of(book, acts, "UTC", [])


@pytest.mark.parametrize(
    ("fields", "called"),
    [
        ({"number": "7", "place": "bus side, cell 2"}, "7 (bus side, cell 2)"),
        ({"number": "7"}, "7"),
        ({"name": "line switch 89"}, "line switch 89"),
        ({"place": "cable end"}, "cable end"),
        ({"size": "120"}, GROUND),
    ],
)
def test_a_ground_is_called_by_what_stands_on_it(
    fields: dict[str, Any], called: str
) -> None:
    acts: list[dict[str, Any]] = []
    said = names(acts)
    acts.append({"act": "list", "item": GROUND, "fields": fields})
    assert said.say(OFF).startswith(f"Ground {called} is off since 30 Nov 08:15")


def test_it_is_called_by_its_latest_entry() -> None:
    listed = {"act": "list", "item": GROUND}
    acts = [listed | {"fields": {"number": n}} for n in ("7", "8")]
    assert "Ground 8 is off" in names(acts).say(OFF)
