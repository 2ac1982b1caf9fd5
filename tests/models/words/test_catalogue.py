"""The catalogue of sentences, by examples that the tablet's reader has too."""

import json
import re
from pathlib import Path
from string import Formatter

import pytest

from models.words import catalogue, put, say

EXAMPLES = json.loads(
    (Path(__file__).parents[2] / "data" / "words_examples.json").read_text("utf-8")
)
SENTENCES = catalogue()


@pytest.mark.parametrize("example", EXAMPLES["sentences"], ids=str)
def test_a_sentence_with_its_parts(example: dict[str, object]) -> None:
    said = put(EXAMPLES["catalogue"], example["id"], example["parts"])
    assert said == example["text"]


@pytest.mark.parametrize("example", EXAMPLES["refused"], ids=str)
def test_what_is_missing_raises(example: dict[str, object]) -> None:
    with pytest.raises(LookupError, match=str(example["id"])):
        put(EXAMPLES["catalogue"], example["id"], example["parts"])


def test_a_sentence_of_the_program() -> None:
    assert say("low.within", value="6", limit="5") == "6 is at or above 5."
    with pytest.raises(LookupError, match=r"low\.within.*limit"):
        say("low.within", value="6")


@pytest.mark.parametrize("sentence", SENTENCES)
def test_every_entry_is_a_text_or_two_forms_of_one(sentence: str) -> None:
    entry = SENTENCES[sentence]
    forms = [entry] if isinstance(entry, str) else [entry["one"], entry["other"]]
    if not isinstance(entry, str):
        assert set(entry) == {"one", "other", "by"}
        assert entry["by"] in placeholders(entry["other"])
    for form in forms:
        assert form == form.strip()
        assert all(re.fullmatch(r"[a-z_]+", name) for name in placeholders(form))


def placeholders(text: str) -> set[str]:
    """Return the names in a text; a stray brace or a format raises or is seen."""
    found = set()
    for _, name, form, conversion in Formatter().parse(text):
        assert not form
        assert conversion is None
        if name is not None:
            found.add(name)
    return found
