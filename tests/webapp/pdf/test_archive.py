"""What makes the file an archive file, read with another library."""

import io

import pikepdf
import pytest

from tests.webapp.pdf.sample_document import sample_document
from webapp.pdf import package_attachments, render_package


@pytest.fixture(scope="module")
def opened():
    document = sample_document()
    pdf = render_package(document, package_attachments(document, "root"))
    with pikepdf.open(io.BytesIO(pdf)) as found:
        yield found


def test_it_says_that_it_is_pdf_a_3b(opened):
    # ISO 19005-3, 6.6.4: version and conformance identification.
    with opened.open_metadata() as meta:
        assert meta["pdfaid:part"] == "3"
        assert meta["pdfaid:conformance"] == "B"
        assert meta["dc:title"].startswith("Saltmarsh pumping works, lineup MV-1")
    assert opened.pdf_version == "1.7"


def test_colours_have_an_output_intent(opened):
    # ISO 19005-3, 6.2.3: device colours need one.
    (intent,) = opened.Root.OutputIntents
    assert intent.S == "/GTS_PDFA1"
    assert intent.DestOutputProfile.N == 3
    assert intent.DestOutputProfile.read_bytes()[36:40] == b"acsp"  # ICC.1, 7.2


def test_attachments_are_associated_files(opened):
    # ISO 19005-3, 6.8: each says how it relates, and the catalogue lists it.
    related = {str(f.F): str(f.AFRelationship) for f in opened.Root.AF}
    assert related == {
        "record.json": "/Source",
        "readings.csv": "/Data",
        "datapackage.json": "/Data",
        "witnessmark-root.pem": "/Data",
    }
    for name in related:
        stream = opened.attachments[name].obj.EF.F
        assert stream.Subtype


def test_information_and_metadata_agree(opened):
    # ISO 19005-3, 6.6.3: where both are given they say the same.
    with opened.open_metadata() as meta:
        assert str(opened.docinfo["/Title"]) == meta["dc:title"]
        assert str(opened.docinfo["/Producer"]) == meta["pdf:Producer"]
    assert str(opened.docinfo["/CreationDate"]).startswith("D:20261125222000")


def test_nothing_in_it_acts(opened):
    # ISO 19005-3, 6.6.1: no scripts and no launching.
    assert "/OpenAction" not in opened.Root
    assert "/AA" not in opened.Root
    assert "/JavaScript" not in opened.Root.Names
    for page in opened.pages:
        assert "/Annots" not in page


def test_no_page_is_transparent_or_encrypted(opened):
    assert not opened.is_encrypted
    for page in opened.pages:
        assert "/Group" not in page


def test_the_outline_leads_to_every_card(opened):
    with opened.open_outline() as outline:
        sheets = {item.title: item for item in outline.root}
    assert list(sheets) == [
        "Cover",
        "Preconditions",
        "Cards",
        "Deficiencies",
        "Dispositions",
        "Instruments",
        "Attached files",
        "People",
        "Signatures waived",
        "Signatures",
    ]
    assert len(sheets["Cards"].children) == 4
