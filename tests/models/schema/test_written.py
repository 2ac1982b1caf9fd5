"""Kept texts are those that any other object would have."""

import json
from typing import Any

import pytest

from models.schema.written import Written, canonical, write

VALUES: dict[str, dict[str, Any]] = {
    "empty": {},
    "numbers": {"b": 0.1, "a": 1e-9, "c": 36, "d": None, "e": True},
    "not ASCII": {"working": ["4.2 GΩ × 1.35 at 20 °C"], "unit": "µΩ"},
    "nested": {"z": [{"b": 1, "a": [{}]}], "a": {"y": "", "x": "\n"}},
}


@pytest.mark.parametrize("value", VALUES.values(), ids=VALUES)
def test_the_stored_text_is_the_one_of_a_plain_object(value: dict[str, Any]) -> None:
    assert write(Written(value)) == write(value) == json.dumps(value)
    assert list(json.loads(write(Written(value)))) == list(value)  # keys in order


@pytest.mark.parametrize("value", VALUES.values(), ids=VALUES)
def test_the_text_of_a_digest_has_its_keys_sorted(value: dict[str, Any]) -> None:
    expected = json.dumps(
        value, sort_keys=True, ensure_ascii=False, separators=(",", ":")
    )
    assert canonical(Written(value)) == canonical(value) == expected


@pytest.mark.parametrize("value", [None, True, 3, 0.25, "Ω", [1, "a"]])
def test_what_is_no_object_is_written_too(value: Any) -> None:
    assert json.loads(write(value)) == json.loads(canonical(value)) == value
