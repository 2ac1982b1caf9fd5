"""The safety page as a reader of another make finds it."""

import copy
import hashlib
import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from models.record.safety_report.attached import attached_safety
from models.record.shapes.json_schema import json_schema
from models.signing.chain import canonical
from tests.webapp.pdf import safety_sample
from tests.webapp.pdf.outside import attached, page_texts
from tests.webapp.pdf.sample_document import sample_document
from webapp.pdf import package_attachments, render_package
from webapp.pdf.package import Doc
from webapp.pdf.safety_page import safety_page
from webapp.pdf.safety_words import cards_sentence, exception_words
from webapp.pdf.sheets import Sheets

pytestmark = pytest.mark.needs("poppler")


def document(
    size: tuple[int, int, int, int] = safety_sample.FULL, *, confirmed: bool = False
) -> dict[str, Any]:
    """Return a package document of a round that went by scopes."""
    made = copy.deepcopy(sample_document())
    made["schema"] = "witnessmark-package-3"
    made["safety"] = safety_sample.report(size)
    made["safety"]["statements"] = [safety_sample.STATEMENT]
    made["safety"]["digest"] = hashlib.sha256(
        canonical(attached_safety(made))
    ).hexdigest()
    for card in made["cards"]:
        card["safety"] = safety_sample.CARD
        if not confirmed:
            card["preconditions"] = []
    return made


def laid_out(made: Doc) -> Sheets:
    sheets = Sheets()
    safety_page(sheets, made)
    return sheets


@pytest.fixture(scope="module")
def made() -> dict[str, Any]:
    return document()


@pytest.fixture(scope="module")
def pdf(made):
    return render_package(made, package_attachments(made, "root"))


@pytest.fixture(scope="module")
def pages(pdf, tmp_path_factory):
    return page_texts(pdf, tmp_path_factory.mktemp("pages"))


def test_the_document_fits_its_schema(made):
    schema = Draft202012Validator(json_schema("package_document"))
    assert [one.message for one in schema.iter_errors(made)] == []
    schema = Draft202012Validator(json_schema("attached_safety"))
    assert [one.message for one in schema.iter_errors(attached_safety(made))] == []


PAGES = {
    "as large as it is meant to hold": ((8, 3, 12, 10), 1),
    "nothing on record": ((0, 0, 0, 0), 1),
    "only exceptions run on": ((8, 3, 12, 40), 2),
}


@pytest.mark.parametrize(("size", "pages"), PAGES.values(), ids=PAGES)
def test_how_many_pages_it_takes(size, pages):
    assert len(laid_out(document(size)).pages) == pages


def test_all_but_the_exceptions_stand_on_the_first_page():
    first = laid_out(document((8, 3, 12, 40))).pages[0]
    said = " ".join(getattr(item, "text", "") for item in first.items)
    for words in ("Crews", "Clearances", "Cells", "Cards", "Proof", "Shift 8", "12 "):
        assert words in said


def test_the_page_says_what_the_report_says(pages, made):
    (page,) = [one for one in pages if "S · Safety" in one]
    safety = made["safety"]
    for words in (safety["governs"], safety["rule_set_text"], safety["digest"]):
        assert words in page
    assert "8 shifts, 3 clearances, 12 cells entered, 23 cards, 10 exceptions" in page
    assert "23 cards: 123 lines before the first reading, 69 after the last" in page
    assert "353 lines" in page
    assert "safety.json" in page
    # 07:05 UTC, of which the site in Lisbon says the same in November
    assert "Shift 1 · 4 Nov 07:05–15:30" in page
    assert "since 11 Nov 07:05" in page


def test_an_empty_part_is_said_to_be_empty(tmp_path):
    bare = document((0, 0, 0, 0))
    bare["safety"]["cards"] |= {"cards": 0, "before": 0, "after": 0}
    pages = page_texts(render_package(bare, ()), tmp_path)
    (page,) = [one for one in pages if "S · Safety" in one]
    assert page.count("None.") == 4
    assert "no exception" in page
    assert "No reading was taken yet." in page
    assert "in time" not in page


def test_cover_and_card_sheets_point_to_it(pages):
    cover = " ".join(pages[:2])
    assert "Safety, and whose rules govern" in cover
    assert "29 CFR 1926 Subparts K and V" in cover
    assert "by 2 people; all in time. Sheet S." in cover
    cards = " ".join(pages)
    assert cards.count("Safety: shift 1, clearance 4711, cell 3; 7 + 3 lines") == 4
    assert not [one for one in pages if "was to be confirmed, and its source" in one]


def test_a_round_that_began_with_confirmations_prints_both(tmp_path):
    mixed = document((1, 1, 1, 0), confirmed=True)
    mixed["cards"][1]["preconditions"] = []
    pages = page_texts(render_package(mixed, ()), tmp_path)
    assert [one for one in pages if "was to be confirmed, and its source" in one]
    assert [one for one in pages if "S · Safety" in one]
    whole = " ".join(pages)
    assert "Preconditions confirmed by R. Sample" in whole
    assert "Cards 1, 3, 4: answered by the list in force before" in whole


def test_the_attached_file_is_the_one_that_the_page_names(pdf, made, tmp_path):
    files = attached(pdf, tmp_path)
    data = files["safety.json"]
    assert hashlib.sha256(data).hexdigest() == made["safety"]["digest"]
    assert json.loads(data)["statements"] == [safety_sample.STATEMENT]


def test_a_round_without_scopes_has_no_such_page_and_file(tmp_path):
    old = sample_document()
    made = render_package(old, package_attachments(old, "root"))
    assert "safety.json" not in attached(made, tmp_path)
    pages = page_texts(made, tmp_path)
    assert not [one for one in pages if "S · Safety" in one]
    assert old["disclaimer"][:60] in " ".join(pages)


NOT_IN_TIME = {
    "a reading outside": (
        {"outside": 1},
        "not all in time: 1 reading was taken outside a standing scope.",
    ),
    "after-lines open": (
        {"after_open": [3, 4, 5]},
        "not all in time: lines after the last reading are open on cards 3–5.",
    ),
}


@pytest.mark.parametrize(("change", "said"), NOT_IN_TIME.values(), ids=NOT_IN_TIME)
def test_all_in_time_is_said_only_where_it_is_so(change, said):
    cards = safety_sample.report()["cards"] | {"in_time": False} | change
    assert cards_sentence(cards).endswith(said)


EXCEPTIONS = {
    "does not apply": (0, "Reason: the mechanism has no trip latch in this position."),
    "set aside": (1, "Agreed by Ines Calder and Marit Osei."),
    "lapse": (2, "Lapsed: lock L-15 of the tie was taken off. Reason: operations"),
    "stop": (3, "Released 5 Nov 11:02 by Ines Calder, who pressed agrees."),
    "outside": (4, "A-G at 10:44, the clearance had lapsed at 10:40."),
    "not put back": (5, "Not put back: CT link 3-X4, cell 3."),
}


@pytest.mark.parametrize(("n", "said"), EXCEPTIONS.values(), ids=EXCEPTIONS)
def test_each_exception_says_why(n, said):
    one = safety_sample.report()["exceptions"][n]
    assert said in exception_words(one, "Europe/Lisbon")


def test_a_stop_that_stands_is_said_to_stand():
    one = safety_sample.report()["exceptions"][3] | {"until": None}
    assert exception_words(one, "Europe/Lisbon") == "Work stopped; not released."
