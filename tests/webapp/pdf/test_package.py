"""The package as a reader of another make finds it."""

import copy
import hashlib
import re
from typing import Any

import pytest

from models.judging.rules import rests_on_memory
from models.signing.chain import canonical
from tests.webapp.pdf.outside import attached, fonts, page_texts
from tests.webapp.pdf.sample_document import KEY, LEAD, TECHNICIAN, sample_document
from webapp.pdf import package_attachments, render_package
from webapp.pdf.cards import cards
from webapp.pdf.sheets import Sheets
from webapp.pdf.sources import Sources
from webapp.pdf.standing import current_readings

pytestmark = pytest.mark.needs("poppler")

ROOT = "-----BEGIN CERTIFICATE-----\nnot one\n-----END CERTIFICATE-----\n"


@pytest.fixture(scope="module")
def document() -> dict[str, Any]:
    return sample_document()


@pytest.fixture(scope="module")
def pdf(document):
    return render_package(document, package_attachments(document, ROOT))


@pytest.fixture(scope="module")
def pages(pdf, tmp_path_factory):
    return page_texts(pdf, tmp_path_factory.mktemp("pages"))


@pytest.fixture(scope="module")
def whole(pages):
    return " ".join(pages)


def test_every_page_is_numbered_and_names_the_record(pages, document):
    for number, page in enumerate(pages, start=1):
        assert f"{number} of {len(pages)}" in page
        assert document["uid"] in page
        assert document["site"]["name"] in page
        assert document["round"]["title"] in page


def test_the_cover_says_in_large_words_whether_it_conforms(pages):
    assert "DOES NOT CONFORM" in pages[0]
    assert "2 readings are outside." in pages[0]
    assert "2 readings are unjudged" in pages[0]
    assert "1 open deficiency stops turnover." in pages[0]


def test_the_elevation_stands_on_the_cover(pages):
    assert "bus A · 2000 A" in pages[0]
    assert "front view, not to scale" in pages[0]


def test_a_relay_card_draws_its_curve(pages):
    card = [p for p in pages if "relay 51-1" in p and "Applied current" in p]
    assert "multiple of pickup 480 A" in " ".join(card)


def test_rows_of_readings_have_their_values_and_what_they_come_to(document, tmp_path):
    """Made up: 10.92 / 8.40 is 1.30, and 8.40 / 6.00 is 1.40."""
    read = copy.deepcopy(document)
    conditions = read["cards"][0]["readings"][0]["conditions"]
    conditions["timed"] = "30:6.00 60:8.40 600:10.92"
    conditions["steps"] = "0.5:8.60 2.5:8.40"
    pages = page_texts(render_package(read, package_attachments(read, ROOT)), tmp_path)
    said = " ".join(" ".join(pages).split())
    timed, steps = said.split("A-G: readings over time")[1].split("A-G: step voltage")
    assert "6.00 GΩ" in timed
    assert "10.92 GΩ" in timed
    assert "Absorption ratio, 60 s over 30 s 1.40" in timed
    assert "Polarization index, 10 min over 1 min 1.30" in timed
    assert "Information only, no verdict" in timed
    assert "time, logarithmic" in timed
    assert "Resistance at 2.5 over 0.5 kV 0.977" in steps
    assert "30:6.00" not in said  # so it is sent, and so it stands in the data inside


def test_a_reading_has_its_strip(pages):
    card = " ".join(p for p in pages if "Card 1 ·" in p)
    # the ends of the scale: B-G is read as > 200 GΩ, and all three share one
    assert len(re.findall(r"(?<![\d.])1 100 GΩ", card)) == 3


def test_what_is_from_memory_is_marked_beside_the_limit_and_in_the_sources(
    document, pages
):
    whole = _without_the_key(pages)
    judged = [r["judgement"] for card in document["cards"] for r in card["readings"]]
    recalled = [one for one in judged if rests_on_memory(one["cite"])]
    assert 0 < len(recalled) < len(judged)
    beside = whole.count("◇ from memory")
    assert beside == len(recalled)
    listed = [Sources(card["readings"]).recalled for card in document["cards"]]
    assert whole.count("◇") == beside + sum(map(len, listed))


def _without_the_key(pages):
    """Return the pages but for the sentence that says what the mark means."""
    return " ".join(pages).replace("marked '◇ from memory' has not", "")


def test_a_confirmed_figure_is_not_marked(document, tmp_path):
    confirmed = copy.deepcopy(document)
    for card in confirmed["cards"]:
        for reading in card["readings"]:
            for cite in reading["judgement"]["cite"]:
                if cite["provenance"] == "memory":
                    cite["provenance"] = "confirmed"
    made = render_package(confirmed, package_attachments(confirmed, ROOT))
    said = _without_the_key(page_texts(made, tmp_path))
    assert "◇" not in said
    assert "confirmed against a licensed copy" in said


GROUPS = {
    "one group": (["closed"] * 5, []),
    "two of several points": (["closed"] * 2 + ["open"] * 3, ["closed", "open"]),
    "one of a single point": (["closed"] * 4 + ["alone"], ["closed"]),
}


@pytest.mark.parametrize(("groups", "named"), GROUPS.values(), ids=GROUPS)
def test_groups_are_named_where_they_compare(document, groups, named):
    made = copy.deepcopy(document)
    for reading, group in zip(made["cards"][0]["readings"], groups, strict=True):
        reading["group"] = group
    sheets = Sheets()
    cards(sheets, made)
    heads = [
        shape.text.removeprefix("Group: ")
        for page in sheets.pages
        for shape in page.items
        if getattr(shape, "text", "").startswith("Group: ")
    ]
    assert heads == named


def test_an_outcome_says_what_was_held(pages):
    (page,) = [p for p in pages if "Card 4 ·" in p]
    assert "27 kV, 60 s" in page
    assert "27 kV, 45 s" in page


def test_only_what_was_superseded_is_struck_through(document):
    sheets = Sheets()
    cards(sheets, document)
    struck = [
        shape.text
        for page in sheets.pages
        for shape in page.items
        if getattr(shape, "style", "") == "struck"
    ]
    lines = [
        shape
        for page in sheets.pages
        for shape in page.items
        if getattr(shape, "style", "") == "strike"
    ]
    assert struck == ["2.10 GΩ"]
    assert len(lines) == 1


def test_every_reading_is_there_as_it_was_typed(pdf, whole, document, tmp_path):
    cells = " ".join(page_texts(pdf, tmp_path, across=False))
    for card in document["cards"]:
        for reading in card["readings"]:
            assert reading["text"] in whole
            assert reading["point"] in cells


def test_every_working_line_is_there(pages, document):
    flat = "".join("".join(pages).split())
    for card in document["cards"]:
        for reading in card["readings"]:
            for line in reading["judgement"]["working"]:
                wanted = "".join(line.removeprefix("Source:").split())
                assert wanted in flat


def test_verdicts_are_words(pages, document):
    cards = [p for p in pages if "Card " in p and "Against the limit" in p]
    printed = " ".join(cards)
    for verdict in ("within", "marginal", "outside", "unjudged"):
        held = [
            r
            for card in document["cards"]
            for r in current_readings(card)
            if r["judgement"]["verdict"] == verdict
        ]
        assert held
        assert printed.count(verdict) >= len(held)


def test_people_keys_and_log_are_there(whole, document):
    assert TECHNICIAN in whole
    assert LEAD in whole
    assert KEY in whole
    assert document["log"]["head"] in whole
    assert "waived" in whole
    assert document["waived"][0]["reason"] in whole


def test_attached_files_are_there_with_their_digests(whole, document):
    for file in document["files"]:
        assert file["name"] in whole
        for n in range(0, 64, 16):
            assert file["sha256"][n : n + 16] in whole
    assert "734 512 bytes" in whole
    assert whole.count("WITHDRAWN by") == 1


def test_the_last_page_says_that_it_is_the_last(pages):
    assert "END OF RECORD" in pages[-1]
    assert sum("END OF RECORD" in page for page in pages) == 1


def test_a_superseded_reading_names_its_successor_and_the_reason(whole):
    assert "superseded" in whole
    assert "barrier wiped dry, lead re-seated" in whole
    assert "Takes the place of 2.10 GΩ" in whole


def test_dispositions_and_deficiencies_stand_with_their_reading(pages):
    (page,) = [p for p in pages if "pole B" in p and "Against the limit" in p]
    assert f"Disposition by {LEAD}" in page
    assert "The maker was asked and agrees." in page
    assert "Deficiency raised: D-001." in page


def test_each_precondition_stands_once_with_its_source(pages, document):
    sheet = " ".join(p for p in pages if "Preconditions" in p and "Item" in p)
    codes = {c["code"] for card in document["cards"] for c in card["preconditions"]}
    for code in codes:
        assert len(re.findall(rf"\b{code}\b", sheet)) == 1
    assert "Not applicable by" in sheet
    assert "side of the barrier." in sheet
    assert "cards 1–4" in sheet


def test_calibration_dates_are_those_of_the_certificates(whole):
    assert "3 Mar 2026" in whole
    assert "9 Mar 2027" in whole
    assert "C26-70113" in whole


def test_times_are_the_sites(document, tmp_path):
    moved = copy.deepcopy(document) | {"zone": "America/Halifax"}
    pages = page_texts(render_package(moved, []), tmp_path)
    # 2026-11-25T22:20Z; Halifax keeps four hours behind UTC in winter.
    assert "made 25 Nov 2026 18:20" in pages[0]


def test_the_data_inside_is_the_document(pdf, document, tmp_path, pages):
    files = attached(pdf, tmp_path)
    assert set(files) == {
        "record.json",
        "readings.csv",
        "datapackage.json",
        "witnessmark-root.pem",
    }
    assert files["record.json"] == canonical(document)
    assert files["witnessmark-root.pem"] == ROOT.encode()
    digest = hashlib.sha256(files["record.json"]).hexdigest()
    assert digest in pages[-1]
    assert all(digest[:16] in page for page in pages)


def test_every_face_is_embedded_and_its_text_can_be_read(pdf, tmp_path):
    rows = fonts(pdf, tmp_path)
    assert rows
    for row in rows:
        assert row[-5:-2] == ["yes", "yes", "yes"]  # emb, sub, uni


def test_the_same_document_gives_the_same_bytes(pdf, document):
    again = render_package(document, package_attachments(document, ROOT))
    assert again == pdf


@pytest.mark.parametrize("how", ["argument", "document"])
def test_a_draft_says_so_on_every_page(document, tmp_path, how):
    if how == "argument":
        pdf = render_package(document, [], draft=True)
    else:
        pdf = render_package({**document, "draft": True}, [])
    pages = page_texts(pdf, tmp_path)
    assert all("DRAFT: not signed" in page for page in pages)
    assert "carries no signature" in pages[-1]


def test_a_record_that_conforms(document, tmp_path):
    kept = copy.deepcopy(document["cards"][:1])
    kept[0]["readings"] = kept[0]["readings"][:2]
    conforming = {
        **document,
        "conformity": {
            "word": "conforms",
            "reasons": ["Within: 2 of 2 readings."],
            "deviations": [],
        },
        "cards": kept,
        "deficiencies": [],
        "dispositions": [],
        "summary": {**document["summary"], "readings": 2, "within": 2, "marginal": 0},
    }
    cover = page_texts(render_package(conforming, []), tmp_path)[0]
    assert "CONFORMS" in cover
    assert "NOT CONFORM" not in cover
    assert "Within: 2 of 2 readings." in cover


def test_a_round_without_cards(document, tmp_path):
    empty = {
        **document,
        "cards": [],
        "cells": [],
        "deficiencies": [],
        "dispositions": [],
        "instruments": [],
        "people": [],
        "waived": [],
        "seals": [],
    }
    pages = page_texts(
        render_package(empty, package_attachments(empty, ROOT)), tmp_path
    )
    assert "No precondition has been answered." in " ".join(pages)
    assert "END OF RECORD" in pages[-1]


def test_long_words_are_never_cut_from_the_sheets(document, tmp_path):
    long = copy.deepcopy(document)
    words = " ".join(f"word{n}" for n in range(900))
    card = long["cards"][1]
    card["readings"][1]["disposition"]["reason"] = words
    card["notes"] = [
        {
            "text": words.replace("word", "note"),
            "by": "X",
            "at": card["readings"][0]["taken_at"],
        }
    ]
    card["readings"][0]["point"] = "pole-A-at-the-far-end-" * 6
    long["deficiencies"][0]["text"] = words.replace("word", "fault")
    long["site"]["name"] = "Saltmarsh " * 30
    flat = "".join(" ".join(page_texts(render_package(long, []), tmp_path)).split())
    for wanted in ("word", "note", "fault"):
        assert all(f"{wanted}{n}" in flat for n in range(900))


def test_signs_without_a_glyph_are_replaced_not_lost_in_the_data(document, tmp_path):
    # U+6D77 is in none of the faces; PDF/A refuses a missing glyph.
    foreign = copy.deepcopy(document)
    foreign["cards"][0]["notes"][0]["text"] = "seen by \u6d77\x07 at noon"
    pdf = render_package(foreign, package_attachments(foreign, ROOT))
    folder = tmp_path / "text"
    folder.mkdir()
    assert "seen by \ufffd" in " ".join(page_texts(pdf, folder))
    assert "\u6d77".encode() in attached(pdf, tmp_path)["record.json"]


def test_a_large_round_repeats_its_heads(tmp_path):
    large = sample_document(6)
    pages = page_texts(render_package(large, []), tmp_path)
    continued = [page for page in pages if ", continued" in page]
    assert continued
    heads = [line.strip() for page in pages[1:] for line in page.splitlines()]
    assert "DOES NOT CONFORM" not in heads
    assert f"{len(pages)} of {len(pages)}" in pages[-1]
    for n in range(1, 25):
        assert any(f"Card {n} ·" in page for page in pages)
