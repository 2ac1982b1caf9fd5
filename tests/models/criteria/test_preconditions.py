"""Preconditions: every procedure has its own, and each names where it comes from."""

import pytest

from models.criteria import disclaimer, load_preconditions
from models.procedures import PROCEDURES

BOOK = {item.code: item for item in load_preconditions()}


@pytest.mark.parametrize("name", PROCEDURES)
def test_a_procedure_asks_only_for_what_the_book_has(name: str) -> None:
    codes = PROCEDURES[name].preconditions
    assert set(codes) <= set(BOOK)


def test_every_item_of_a_procedure_is_asked_for_by_one() -> None:
    asked = {code for p in PROCEDURES.values() for code in p.preconditions}
    own = {item.code for item in BOOK.values() if item.part == "procedure"}
    assert own - asked == set()


def test_every_item_has_text_and_source() -> None:
    for item in BOOK.values():
        assert item.text.endswith("."), item.code
        assert item.source.strip(), item.code


def test_there_is_something_to_do_before_and_after_every_test() -> None:
    assert {item.part for item in BOOK.values()} == {"general", "procedure", "after"}


RULES_FIRST = ("electrical code", "instruction book", "qualified or licensed person")


@pytest.mark.parametrize("words", RULES_FIRST)
def test_the_disclaimer_defers_to_whoever_governs(words: str) -> None:
    assert words in disclaimer()


# Cautions without which a card must not open (IEEE 510, 29 CFR 1910.333 and
# 1910.269, instruction books of vacuum breakers).
SAID = {
    "absence of voltage is tested": ("general", "voltage"),
    "grounds are applied": ("general", "ground"),
    "a second person is present": ("general", "second qualified person"),
    "charge is drained after a dc test": ("after", "ground"),
}


@pytest.mark.parametrize(("part", "words"), SAID.values(), ids=SAID)
def test_the_usual_cautions_are_there(part: str, words: str) -> None:
    assert any(
        words in item.text.lower() for item in BOOK.values() if item.part == part
    )


def test_vacuum_integrity_warns_of_x_rays() -> None:
    texts = [BOOK[code].text for code in PROCEDURES["vacuum_integrity"].preconditions]
    assert any("x-ray" in text.lower() for text in texts)
