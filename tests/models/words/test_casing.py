"""A title inside a sentence."""

import pytest

from models.words import in_sentence

TITLES = {
    "Breaker timing": "breaker timing",
    "CT ratio": "CT ratio",
    "Gas pressure at 20 °C": "gas pressure at 20 °C",
    "Dc supply": "dc supply",
    "": "",
}


@pytest.mark.parametrize(("title", "inside"), TITLES.items(), ids=TITLES)
def test_a_title_keeps_its_abbreviations_inside_a_sentence(
    title: str, inside: str
) -> None:
    assert in_sentence(title) == inside
