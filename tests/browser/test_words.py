"""The tablet's reader of the catalogue, by the examples that the server's has too."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

EXAMPLES = json.loads(
    (Path(__file__).parents[1] / "data" / "words_examples.json").read_text("utf-8")
)
PUT = """async ([sentences, examples]) => {
  const { put } = await import("/offline/words/catalogue.js");
  return examples.map(({ id, parts }) => {
    try {
      return { text: put(sentences, id, parts) };
    } catch (error) {
      return { refused: error.message };
    }
  });
}"""


def _put(page: Page, examples: list[dict[str, Any]]) -> list[dict[str, str]]:
    found: list[dict[str, str]] = page.evaluate(PUT, [EXAMPLES["catalogue"], examples])
    return found


def test_sentences_with_their_parts(rule_reader: Page) -> None:
    examples = EXAMPLES["sentences"]
    wanted = [{"text": example["text"]} for example in examples]
    assert _put(rule_reader, examples) == wanted


def test_what_is_missing_is_refused(rule_reader: Page) -> None:
    examples = EXAMPLES["refused"]
    for example, found in zip(examples, _put(rule_reader, examples), strict=True):
        assert example["id"] in found["refused"]
