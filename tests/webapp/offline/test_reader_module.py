"""The tablet's rule reader is one small module that needs no other."""

import re

import pytest

from tests.webapp.offline.module_text import (
    OFFLINE,
    code_of,
    module_text,
    strings_of,
)

MODULES = sorted(str(path.relative_to(OFFLINE)) for path in OFFLINE.rglob("*.js"))
LARGEST = 20_000  # bytes of code, unminified


def test_what_is_stripped_is_comments_and_blank_lines_only() -> None:
    text = (
        '/** Says\n * what. */\nconst a = "b"; // why\n\n'
        "  // a line\nconst of = /[/]\\//; /* of it */\n"
        'const address = "//host/a"; // said\n'
    )
    assert code_of(text) == (
        'const a = "b";\nconst of = /[/]\\//;\nconst address = "//host/a";\n'
    )


def test_the_reader_is_small_without_its_comments() -> None:
    assert len(code_of(module_text("judge.js")).encode()) < LARGEST


def test_the_reader_imports_nothing() -> None:
    code = code_of(module_text("judge.js"))
    assert re.findall(r"\bimport\b|\bfrom\s+[\"']", code) == []


@pytest.mark.parametrize("name", MODULES)
def test_no_module_has_sentences_of_its_own(name: str) -> None:
    """What the reader says to people stands in models/words, once for all readers."""
    thrown = re.compile(r"new (?:\w*Error)\([^;]*;")  # for developers, not for people
    code = thrown.sub("", code_of(module_text(name)))
    assert [
        text for text in strings_of(code) if re.search(r"[a-z]{2} [a-z]{2}", text)
    ] == []


def test_a_sentence_in_a_module_is_seen() -> None:
    source = 'const a = "no_trip"; say(`Held at ${plain(kv)} kV; it held.`); // it held'
    assert strings_of(source) == ['"no_trip"', "`Held at  kV; it held.`"]
