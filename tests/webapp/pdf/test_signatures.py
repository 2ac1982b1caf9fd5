"""Where signatures go, and what they look like."""

import io

import pikepdf
import pytest
from pyhanko.pdf_utils.reader import PdfFileReader

from models.signing.authority import create_authority
from models.signing.keys import issue_key, open_key
from models.signing.pdf_seals import seal_pdf
from tests.webapp.pdf.outside import fonts, page_texts
from tests.webapp.pdf.sample_document import BEGAN, sample_document
from webapp.pdf import package_attachments, render_package, seal_boxes, stamp
from webapp.pdf.sheets import FRAME_BOTTOM, FRAME_LEFT, FRAME_RIGHT, PAPER_HEIGHT

LINES = [
    "R. Sample",
    "technician, Harbour Test Company",
    "performed 2026-11-25 22:20 +0000",
    "I performed the tests that carry my name, as recorded here.",
    "key 5A:5A:5A:5A:5A:5A:5A:5A",
]


def with_seals(count: int, waived: int = 0):
    document = sample_document()
    seal = document["seals"][0]
    waiver = document["waived"][0]
    return {
        **document,
        "seals": [{**seal, "field": f"performed_{n}"} for n in range(count)],
        "waived": [waiver] * waived,
    }


@pytest.mark.parametrize("count", [1, 2, 8, 9, 17])
def test_boxes_lie_in_the_frame_and_apart(count):
    boxes = list(seal_boxes(with_seals(count)).values())
    assert len(boxes) == count
    for box in boxes:
        x1, y1, x2, y2 = box.corners
        assert FRAME_LEFT < x1 < x2 < FRAME_RIGHT
        assert PAPER_HEIGHT - FRAME_BOTTOM < y1 < y2 < PAPER_HEIGHT
        assert all(corner == int(corner) for corner in box.corners)
    for n, one in enumerate(boxes):
        for other in boxes[n + 1 :]:
            assert one.page != other.page or _apart(one.corners, other.corners)


def _apart(one, other):
    return (
        one[2] <= other[0]
        or other[2] <= one[0]
        or one[3] <= other[1]
        or other[3] <= one[1]
    )


PAGES = {
    "one sheet": (2, 1, {-1}),
    "a full sheet": (7, 1, {-1}),
    "a waiver more makes two": (8, 1, {-2}),
    "two sheets": (9, 0, {-2, -1}),
}


@pytest.mark.parametrize(("seals", "waived", "wanted"), PAGES.values(), ids=PAGES)
def test_pages_are_counted_from_the_end(seals, waived, wanted):
    boxes = seal_boxes(with_seals(seals, waived))
    assert {box.page for box in boxes.values()} == wanted


@pytest.mark.needs("poppler")
@pytest.mark.parametrize("count", [2, 9])
def test_the_boxes_pages_are_signature_sheets(count, tmp_path):
    document = with_seals(count)
    pages = page_texts(render_package(document, []), tmp_path)
    for box in seal_boxes(document).values():
        assert "Each signature is made with a key" in pages[box.page]


@pytest.mark.needs("poppler")
def test_a_waived_signature_says_why(tmp_path):
    document = sample_document()
    last = page_texts(render_package(document, []), tmp_path)[-1]
    assert "signature waived" in last
    assert document["waived"][0]["reason"] in last


@pytest.mark.needs("poppler")
def test_the_stamp_says_every_line_in_an_embedded_face(tmp_path):
    box = seal_boxes(sample_document())["performed_1"]
    made = stamp(LINES, box.width, box.height)
    (page,) = page_texts(made, tmp_path)
    for line in LINES:
        assert line in page
    assert all(row[-5] == "yes" for row in fonts(made, tmp_path))


def test_the_stamp_has_the_size_asked_for():
    with pikepdf.open(io.BytesIO(stamp(LINES, 234, 92))) as opened:
        assert [float(v) for v in opened.pages[0].MediaBox] == [0, 0, 234, 92]


@pytest.mark.needs("poppler")
def test_a_signed_package_keeps_its_pages_and_shows_the_stamp(tmp_path):
    document = sample_document()
    authority = create_authority("Test authority", BEGAN)
    key = issue_key(
        authority,
        person_id="p1",
        name="R. Sample",
        organisation="Harbour Test Company",
        password="a long enough one",
        now=BEGAN,
    )
    made = render_package(
        document, package_attachments(document, authority.certificate_pem)
    )
    box = seal_boxes(document)["performed_1"]
    signed = seal_pdf(
        made,
        private_key=open_key(key.wrapped, "a long enough one", "p1"),
        certificate_pem=key.certificate_pem,
        root_pem=authority.certificate_pem,
        field="performed_1",
        stamp_pdf=stamp(LINES, box.width, box.height),
        box=box.corners,
        page=box.page,
        reason="performed",
        name="R. Sample",
        now=BEGAN,
    )
    [sealed] = PdfFileReader(io.BytesIO(signed)).embedded_signatures
    assert sealed.self_reported_timestamp == BEGAN
    assert signed.startswith(made)
    before, after = page_texts(made, tmp_path), page_texts(signed, tmp_path)
    assert before[:-1] == after[:-1]
    assert "performed 2026-11-25 22:20 +0000" in after[-1]
