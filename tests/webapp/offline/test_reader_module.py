"""The tablet's rule reader is one small module that needs no other."""

import re

from tests.webapp.offline.module_text import code_of, module_text

LARGEST = 12_000  # bytes of code, unminified


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


def test_the_reader_has_no_sentences() -> None:
    """What a rule's reader says to people is made in the modules beside it."""
    sentences = re.findall(r'"[A-Z][^"]* [^"]*"', code_of(module_text("judge.js")))
    assert sentences == []
