"""The word on the cover, its reasons and what the round conforms with."""

import copy
from typing import Any

import pytest

from models.record.conformity import WORDS
from tests.webapp.pdf.outside import page_texts
from tests.webapp.pdf.sample_document import sample_document
from webapp.pdf import render_package

AT = "2026-03-04T10:20:00Z"
DEVIATION = {
    "kind": "card",
    "card_id": "0123",
    "where": "Cell 3 · bus A · dielectric withstand",
    "what": "card withdrawn from the programme",
    "verdict": None,
    "decided": "withdrawn",
    "reason": "the maker tested it at the works",
    "by": "Otto Heron",
    "at": AT,
    "agreed_by": "Noor Curlew",
    "agreed_at": AT,
}


def cover_of(document: dict[str, Any], tmp_path: Any) -> str:
    return page_texts(render_package(document, []), tmp_path)[0]


@pytest.mark.parametrize("word", WORDS)
def test_each_word_stands_on_the_cover_with_its_reasons(word, tmp_path):
    document = copy.deepcopy(sample_document())
    document["conformity"] |= {"word": word, "reasons": ["Because the sample says so."]}
    cover = cover_of(document, tmp_path)
    assert WORDS[word] in cover
    assert "Because the sample says so." in cover
    others = {said for said in WORDS.values() if said not in WORDS[word]}
    assert not [said for said in others if f"\n{said}\n" in cover]


def test_each_deviation_is_listed_with_who_decided_and_who_agreed(tmp_path):
    document = copy.deepcopy(sample_document())
    document["conformity"] |= {
        "word": "conforms_with_deviations",
        "deviations": [DEVIATION],
    }
    cover = " ".join(cover_of(document, tmp_path).split())
    for said in ("withdrawn from the programme", "at the works", "Otto Heron"):
        assert said in cover
    assert "agreed by" in cover and "Noor Curlew" in cover


def test_a_cell_whose_cards_were_withdrawn_is_not_all_signed(tmp_path):
    document = copy.deepcopy(sample_document())
    for card in document["cards"]:
        card["state"] = "withdrawn"
    pages = " ".join(page_texts(render_package(document, []), tmp_path))
    assert pages.count("withdrawn") >= 2
    assert "all signed" not in pages
